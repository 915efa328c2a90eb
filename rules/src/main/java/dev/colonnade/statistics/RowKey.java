package dev.colonnade.statistics;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.Optional;

/** By which key the rows of a table are stored, and found from the entries of its other indexes. */
public final class RowKey {
  private RowKey() {}

  /** True when the rows of the table are stored in the order of this index and as part of it. */
  public static boolean isOf(Index index, Table table, Dialect dialect) {
    boolean primaryKey =
        !table.primaryKey().isEmpty()
            && index.predicate().isEmpty()
            && index.origin() == IndexOrigin.PRIMARY_KEY;
    boolean rowNumber = TableProfile.isRowNumber(table, dialect);
    return index.clustered()
        || (primaryKey && dialect.storage().keepsRowsInPrimaryKeyOrder(rowNumber))
        || inPlaceOfPrimaryKey(table, dialect).filter(index::equals).isPresent();
  }

  /**
   * The columns that the database appends to the entries of the other indexes because it stores the
   * rows by them; empty where that is a number or an address that no query sees.
   */
  public static List<Identifier> columns(Table table, Dialect dialect) {
    return switch (dialect.storage().appended().value()) {
      case ROW_ADDRESS -> List.of();
      case PRIMARY_KEY -> table.primaryKey();
      case PRIMARY_OR_UNIQUE_KEY ->
          inPlaceOfPrimaryKey(table, dialect)
              .map(
                  index -> index.keyColumns().stream().flatMap(it -> it.column().stream()).toList())
              .orElse(table.primaryKey());
      case INTEGER_PRIMARY_KEY, HELD_INTEGER_PRIMARY_KEY ->
          TableProfile.isRowNumber(table, dialect) ? table.primaryKey() : List.of();
    };
  }

  private static Optional<Index> inPlaceOfPrimaryKey(Table table, Dialect dialect) {
    return switch (dialect.storage().appended().value()) {
      case PRIMARY_OR_UNIQUE_KEY ->
          table.primaryKey().isEmpty()
              ? table.indexes().stream()
                  .filter(it -> it.unique() && it.predicate().isEmpty())
                  .filter(it -> it.method() == IndexMethod.BTREE)
                  .filter(it -> it.keyColumns().stream().allMatch(part -> isWhole(part, table)))
                  .findFirst()
              : Optional.empty();
      case ROW_ADDRESS, PRIMARY_KEY, INTEGER_PRIMARY_KEY, HELD_INTEGER_PRIMARY_KEY ->
          Optional.empty();
    };
  }

  /** True for a column of which no row has NULL and that is stored in full. */
  private static boolean isWhole(KeyColumn part, Table table) {
    return part.prefixLength().isEmpty()
        && part.column().flatMap(table::column).filter(column -> !column.nullable()).isPresent();
  }
}
