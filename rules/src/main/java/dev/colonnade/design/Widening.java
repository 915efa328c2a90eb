package dev.colonnade.design;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;

/** An index with further columns in its entries. */
public final class Widening {
  private Widening() {}

  /**
   * The index with the columns included, where the database has that for it; at the end of the key
   * otherwise. A unique index widened in its key would no longer enforce the same: what comes back
   * is then not unique, and meant to stand beside it.
   */
  public static Index of(Table table, Index index, List<Identifier> columns, Dialect dialect) {
    boolean include =
        switch (dialect.features().included().value()) {
          case NONE -> false;
          case UNIQUE_ONLY -> index.unique();
          case ANY -> true;
        };
    if (include) {
      List<Identifier> included = new ArrayList<>(index.includedColumns());
      included.addAll(columns);
      return ProposedIndex.like(table, index, index.keyColumns(), included, index.unique());
    }
    List<KeyColumn> key = new ArrayList<>(index.keyColumns());
    columns.forEach(column -> key.add(KeyColumn.ascending(column.text())));
    return ProposedIndex.like(table, index, key, index.includedColumns(), false);
  }
}
