package dev.colonnade.schema;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * A table with everything that belongs to it.
 *
 * @param name its name; with its schema in front where a table in another schema has the same name,
 *     and not for the default schema
 * @param schemaName the schema it was created in, where one was written
 * @param columns in declared order
 * @param primaryKey the primary key's columns in key order; empty without one
 * @param foreignKeys by columns, then name: the order in which Liquibase lists those of one table
 *     differs from run to run
 * @param indexes by name
 * @param location where it is created
 */
public record Table(
    Identifier name,
    Optional<Identifier> schemaName,
    List<Column> columns,
    List<Identifier> primaryKey,
    List<ForeignKey> foreignKeys,
    List<Index> indexes,
    SourceLocation location) {

  /** Copies the lists and sorts the indexes by name. */
  public Table {
    columns = List.copyOf(columns);
    primaryKey = List.copyOf(primaryKey);
    foreignKeys =
        foreignKeys.stream()
            .sorted(
                Comparator.comparing((ForeignKey key) -> key.columns().toString())
                    .thenComparing(key -> key.name().map(Identifier::folded).orElse("")))
            .toList();
    indexes = indexes.stream().sorted(Comparator.comparing(Index::name)).toList();
  }

  /** The column of that name. */
  public Optional<Column> column(Identifier column) {
    return columns.stream().filter(candidate -> candidate.name().equals(column)).findFirst();
  }

  /** The index of that name. */
  public Optional<Index> index(Identifier index) {
    return indexes.stream().filter(candidate -> candidate.name().equals(index)).findFirst();
  }

  /** True when the column can hold NULL, and for a column that the table does not have. */
  public boolean isNullable(Identifier column) {
    return column(column).map(Column::nullable).orElse(true) && !primaryKey.contains(column);
  }

  /** True when no two rows can agree in all of the values: they contain a unique key. */
  public boolean hasUniqueKeyWithin(Collection<? extends Expression> values) {
    boolean primary =
        !primaryKey.isEmpty()
            && primaryKey.stream()
                .allMatch(it -> values.contains(new ColumnRef(ColumnRef.SELF, it)));
    return primary
        || indexes.stream()
            .filter(index -> index.unique() && index.predicate().isEmpty())
            .anyMatch(
                index ->
                    index.keyColumns().stream()
                        .allMatch(
                            part ->
                                values.contains(part.value())
                                    && part.column().map(it -> !isNullable(it)).orElse(false)));
  }

  /** The same table with other indexes. */
  public Table withIndexes(List<Index> newIndexes) {
    return new Table(name, schemaName, columns, primaryKey, foreignKeys, newIndexes, location);
  }
}
