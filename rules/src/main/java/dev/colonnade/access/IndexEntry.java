package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.RowKey;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * What an entry of an index really holds on a database: the declared key, what the database appends
 * to it, and the included columns.
 *
 * @param index the index
 * @param search the key as far as it can be searched and gives an order: the declared key, then the
 *     appended columns
 * @param held every column whose value can be read from the entry
 * @param clustered true when the rows themselves lie in this order
 */
public record IndexEntry(
    Index index, List<KeyColumn> search, Set<Identifier> held, boolean clustered) {

  /** What an entry of the index of that table holds. */
  public static IndexEntry of(Index index, Table table, Dialect dialect) {
    boolean clustered = RowKey.isOf(index, table, dialect);
    List<KeyColumn> search = new ArrayList<>(index.keyColumns());
    Set<Identifier> held = new LinkedHashSet<>();
    for (KeyColumn part : index.keyColumns()) {
      if (part.prefixLength().isEmpty()) {
        part.column().ifPresent(held::add);
      }
    }
    held.addAll(index.includedColumns());
    if (!clustered && index.method() == IndexMethod.BTREE) {
      for (Identifier column : RowKey.columns(table, dialect)) {
        boolean searched =
            dialect.storage().appended().value() != Appended.HELD_INTEGER_PRIMARY_KEY;
        if (held.add(column) && searched && !index.unique()) {
          search.add(KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false));
        }
      }
    }
    return new IndexEntry(index, List.copyOf(search), held, clustered);
  }

  /** True where the part is the primary key and the row number at once. */
  static boolean isRowNumber(KeyColumn part, Table table, Dialect dialect) {
    return TableProfile.isRowNumber(table, dialect)
        && part.column().stream().anyMatch(table.primaryKey()::contains);
  }
}
