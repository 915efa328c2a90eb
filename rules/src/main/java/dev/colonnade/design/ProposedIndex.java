package dev.colonnade.design;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.Optional;

/**
 * Indexes that do not exist yet. The name follows from table and columns, so that two queries that
 * lack the same index are told the same name.
 */
public final class ProposedIndex {
  private ProposedIndex() {}

  /** An index with this key and these included columns. */
  public static Index of(
      Table table, List<KeyColumn> key, List<Identifier> included, boolean unique) {
    return new Index(
        name(table, key, included),
        table.name(),
        unique,
        key,
        included,
        Optional.empty(),
        Optional.empty(),
        IndexMethod.BTREE,
        false,
        IndexOrigin.CREATE_INDEX,
        table.location());
  }

  /** The index as it is with another key: predicate and kind stay. */
  public static Index like(
      Table table, Index index, List<KeyColumn> key, List<Identifier> included, boolean unique) {
    return new Index(
        name(table, key, included),
        table.name(),
        unique,
        key,
        included,
        index.predicate(),
        index.predicateText(),
        index.method(),
        false,
        IndexOrigin.CREATE_INDEX,
        table.location());
  }

  /** The index without its uniqueness. */
  public static Index notUnique(Index index) {
    return new Index(
        index.name(),
        index.table(),
        false,
        index.keyColumns(),
        index.includedColumns(),
        index.predicate(),
        index.predicateText(),
        index.method(),
        index.clustered(),
        index.origin(),
        index.location());
  }

  /** The index under a name that no index of the table has. */
  public static Index withFreeName(Table table, Index index) {
    return of(table, index.keyColumns(), index.includedColumns(), index.unique());
  }

  private static Identifier name(Table table, List<KeyColumn> key, List<Identifier> included) {
    String name = IndexNaming.name(table.name(), key, included);
    String free = name;
    for (int i = 2; table.index(new Identifier(free)).isPresent(); i++) {
      free = name + "_" + i;
    }
    return new Identifier(free);
  }
}
