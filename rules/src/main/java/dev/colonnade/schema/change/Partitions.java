package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.change.ColumnChange.AddColumn;
import dev.colonnade.schema.change.ColumnChange.DropColumn;
import dev.colonnade.schema.change.ColumnChange.ModifyColumn;
import dev.colonnade.schema.change.ColumnChange.RenameColumn;
import dev.colonnade.schema.change.ColumnChange.SetNullable;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.IndexChange.CreateIndex;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What happens to the partitions of a table when the table changes
 * (https://www.postgresql.org/docs/18/ddl-partitioning.html: creating an index on the partitioned
 * table creates a matching one on each partition, also on those attached later).
 */
final class Partitions {
  private Partitions() {}

  /** The changes that follow; to be asked before the change itself is applied. */
  static List<SchemaChange> following(FoldState state, SchemaChange change) {
    if (change instanceof DropIndex drop) {
      return dropped(state, drop);
    }
    Optional<Identifier> table = table(change);
    TableState parent = table.map(state.tables::get).orElse(null);
    if (parent == null || parent.partitions().isEmpty()) {
      return List.of();
    }
    List<SchemaChange> following = new ArrayList<>();
    for (Identifier partition : parent.partitions()) {
      if (state.tables.containsKey(partition)) {
        following.add(on(change, partition));
      }
    }
    return following;
  }

  private static Optional<Identifier> table(SchemaChange change) {
    if (change instanceof CreateIndex it) {
      return Optional.of(it.table());
    }
    if (change instanceof AddPrimaryKey it) {
      return Optional.of(it.table());
    }
    if (change instanceof AddUniqueConstraint it) {
      return Optional.of(it.table());
    }
    if (change instanceof AddColumn it) {
      return Optional.of(it.table());
    }
    if (change instanceof DropColumn it) {
      return Optional.of(it.table());
    }
    if (change instanceof RenameColumn it) {
      return Optional.of(it.table());
    }
    if (change instanceof ModifyColumn it) {
      return Optional.of(it.table());
    }
    return change instanceof SetNullable it ? Optional.of(it.table()) : Optional.empty();
  }

  private static SchemaChange on(SchemaChange change, Identifier table) {
    if (change instanceof CreateIndex it) {
      return new CreateIndex(
          Optional.empty(),
          table,
          it.unique(),
          it.keyColumns(),
          it.includedColumns(),
          it.predicate(),
          it.predicateText(),
          it.method(),
          it.clustered(),
          it.ifNotExists(),
          it.location());
    }
    if (change instanceof AddPrimaryKey it) {
      return new AddPrimaryKey(
          table,
          Optional.empty(),
          it.keyColumns(),
          it.includedColumns(),
          Optional.empty(),
          it.clustered(),
          it.location());
    }
    if (change instanceof AddUniqueConstraint it) {
      return new AddUniqueConstraint(
          table,
          Optional.empty(),
          it.keyColumns(),
          it.includedColumns(),
          Optional.empty(),
          it.clustered(),
          it.location());
    }
    if (change instanceof AddColumn it) {
      return new AddColumn(table, it.column(), /* ifNotExists= */ true, it.location());
    }
    if (change instanceof DropColumn it) {
      return new DropColumn(
          table, it.column(), /* ifExists= */ true, it.dropsIndexes(), it.location());
    }
    if (change instanceof RenameColumn it) {
      return new RenameColumn(table, it.from(), it.to(), it.location());
    }
    if (change instanceof ModifyColumn it) {
      return new ModifyColumn(table, it.column(), it.type(), it.nullable(), it.location());
    }
    return change instanceof SetNullable it
        ? new SetNullable(table, it.column(), it.nullable(), it.location())
        : change;
  }

  private static List<SchemaChange> dropped(FoldState state, DropIndex drop) {
    Optional<TableState> parent = state.tableOfIndex(drop.table(), drop.name());
    Optional<Index> index = parent.flatMap(table -> table.index(drop.name()));
    if (index.isEmpty()) {
      return List.of();
    }
    List<SchemaChange> following = new ArrayList<>();
    for (Identifier name : parent.get().partitions()) {
      Optional.ofNullable(state.tables.get(name)).stream()
          .flatMap(table -> table.indexes().stream())
          .filter(own -> CopyFold.isSame(own, index.get()))
          .findFirst()
          .ifPresent(
              own ->
                  following.add(
                      new DropIndex(
                          Optional.of(name), own.name(), /* ifExists= */ true, drop.location())));
    }
    return following;
  }
}
