package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * A primary key, unique constraint or foreign key of a table that is being folded.
 *
 * @param name its name, given or generated
 * @param named true when the name was given
 * @param referencedTable the parent table, for a foreign key
 * @param index the index that serves it, if any
 * @param ownsIndex true when that index goes with the constraint
 */
record Constraint(
    ConstraintKind kind,
    Identifier name,
    boolean named,
    List<Identifier> columns,
    Optional<Identifier> referencedTable,
    List<Identifier> referencedColumns,
    Optional<Identifier> index,
    boolean ownsIndex,
    SourceLocation location) {

  Constraint {
    columns = List.copyOf(columns);
    referencedColumns = List.copyOf(referencedColumns);
  }

  boolean isPrimaryKey() {
    return kind == ConstraintKind.PRIMARY_KEY;
  }

  boolean isForeignKey() {
    return kind == ConstraintKind.FOREIGN_KEY;
  }

  boolean refersTo(Identifier table) {
    return referencedTable.filter(table::equals).isPresent();
  }

  Constraint withName(Identifier newName) {
    return new Constraint(
        kind,
        newName,
        true,
        columns,
        referencedTable,
        referencedColumns,
        index,
        ownsIndex,
        location);
  }

  Constraint withIndex(Optional<Identifier> newIndex, boolean owns) {
    return new Constraint(
        kind, name, named, columns, referencedTable, referencedColumns, newIndex, owns, location);
  }

  Constraint withColumns(List<Identifier> newColumns) {
    return new Constraint(
        kind,
        name,
        named,
        newColumns,
        referencedTable,
        referencedColumns,
        index,
        ownsIndex,
        location);
  }

  Constraint withReference(Identifier table, UnaryOperator<Identifier> column) {
    return new Constraint(
        kind,
        name,
        named,
        columns,
        Optional.of(table),
        referencedColumns.stream().map(column).toList(),
        index,
        ownsIndex,
        location);
  }
}
