package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;

/** Builds tables anew from what a reader of the catalog told of them. */
final class SnapshotFold {
  private final FoldState state;
  private final KeyFold keys;
  private final DroppedParts drops;

  SnapshotFold(FoldState state, SchemaRules rules, KeyFold keys) {
    this.state = state;
    this.keys = keys;
    this.drops = new DroppedParts(rules);
  }

  void rebuild(TableFromSnapshot change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "rebuild table");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    twins(table).forEach(table::removeIndex);
    drops.constraints(table, constraint -> constraint.kind() == ConstraintKind.UNIQUE);
    for (Index index : table.indexes()) {
      if (!index.origin().isConstraint()) {
        table.putIndex(ascending(index));
      }
    }
    referToTemporary(table);
    change.required().flatMap(table::column).ifPresent(column -> forbidNull(table, column));
    change
        .counting()
        .flatMap(table::column)
        .ifPresent(column -> keys.counts(table, column, change.location()));
  }

  /**
   * Created indexes that are not made again: of those on the same columns, whatever their
   * directions, Liquibase keeps the one that it meets first in a hash map of their names (4.33.0,
   * compared in the tests).
   */
  private static List<Identifier> twins(TableState table) {
    Map<String, Index> met = new HashMap<>();
    for (Index index : table.indexes()) {
      if (!index.clustered() && index.keyColumns().stream().allMatch(k -> k.column().isPresent())) {
        met.put(index.name().text(), index);
      }
    }
    List<Identifier> twins = new ArrayList<>();
    Set<List<Identifier>> columns = new HashSet<>();
    for (Index index : met.values()) {
      if (!columns.add(KeyFold.plainColumns(index.keyColumns()))
          && !index.origin().isConstraint()) {
        twins.add(index.name());
      }
    }
    return twins;
  }

  private static Index ascending(Index index) {
    return IndexEdits.withKey(
        index,
        index.keyColumns().stream()
            .map(part -> KeyColumn.of(part.value(), /* descending= */ false))
            .toList());
  }

  /**
   * Foreign keys of other tables follow it to the name that it has for a moment, and stay there.
   */
  private void referToTemporary(TableState table) {
    Identifier temporary = Identifier.of(table.name().text() + "_temporary");
    for (TableState other : state.tables.values()) {
      if (!other.equals(table)) {
        for (Constraint constraint : other.constraints()) {
          if (constraint.refersTo(table.id())) {
            other.replaceConstraint(
                constraint, constraint.withReference(temporary, UnaryOperator.identity()));
          }
        }
      }
    }
  }

  private static void forbidNull(TableState table, Column column) {
    table.forbidsNull(column.name());
    table.replaceColumn(
        column.name(),
        new Column(column.name(), column.type(), /* nullable= */ false, column.collation()));
  }
}
