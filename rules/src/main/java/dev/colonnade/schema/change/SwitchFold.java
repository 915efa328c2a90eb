package dev.colonnade.schema.change;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddForeignKey;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.List;
import java.util.Optional;

/** Switches constraints off and on: off, they are gone but for what makes them anew. */
final class SwitchFold {
  private final FoldState state;
  private final KeyFold keys;
  private final ForeignKeyFold foreignKeys;
  private final IndexFold indexes;

  SwitchFold(FoldState state, KeyFold keys, ForeignKeyFold foreignKeys, IndexFold indexes) {
    this.state = state;
    this.keys = keys;
    this.foreignKeys = foreignKeys;
    this.indexes = indexes;
  }

  void apply(SwitchConstraint change) {
    Optional<TableState> table =
        state.table(change.table(), change.location(), "switch constraint");
    if (table.isPresent() && change.on()) {
      table.get().takeSwitchedOff(off -> matches(off, change)).ifPresent(off -> add(change, off));
    } else {
      table.ifPresent(found -> switchOff(found, change));
    }
  }

  private void switchOff(TableState table, SwitchConstraint change) {
    Optional<Constraint> found = table.constraint(candidate -> matches(candidate, change));
    if (found.isEmpty()) {
      return;
    }
    if (change.cascade()) {
      for (TableState other : state.tables.values()) {
        other.constraints().stream()
            .filter(reference -> IndexFold.refersTo(reference, table, found.get()))
            .forEach(reference -> remove(other, reference, change));
      }
    }
    remove(table, found.get(), change);
  }

  private void remove(TableState table, Constraint constraint, SwitchConstraint change) {
    indexes.drop(table, constraint, change.keepsIndex());
    table.switchedOff(constraint);
  }

  private void add(SwitchConstraint change, Constraint off) {
    Optional<Identifier> name = off.named() ? Optional.of(off.name()) : Optional.empty();
    List<KeyColumn> key =
        off.columns().stream()
            .map(column -> KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false))
            .toList();
    switch (off.kind()) {
      case PRIMARY_KEY ->
          keys.add(
              new AddPrimaryKey(
                  change.table(),
                  name,
                  key,
                  List.of(),
                  change.usingIndex(),
                  Optional.empty(),
                  change.location()));
      case UNIQUE ->
          keys.add(
              new AddUniqueConstraint(
                  change.table(),
                  name,
                  key,
                  List.of(),
                  change.usingIndex(),
                  /* clustered= */ false,
                  change.location()));
      case FOREIGN_KEY ->
          foreignKeys.add(
              new AddForeignKey(
                  change.table(),
                  name,
                  off.columns(),
                  off.referencedTable().orElseThrow(),
                  off.referencedColumns(),
                  change.location()));
      case ANY -> throw new IllegalStateException("a constraint of no kind");
    }
  }

  private static boolean matches(Constraint candidate, SwitchConstraint change) {
    if (change.kind() != ConstraintKind.ANY && change.kind() != candidate.kind()) {
      return false;
    }
    return change.name().isPresent()
        ? change.name().get().equals(candidate.name())
        : candidate.isPrimaryKey() || change.columns().equals(candidate.columns());
  }
}
