package dev.colonnade.query;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * The look-ups that a database makes by itself: for each row deleted from a table, whether rows of
 * others still refer to it (SQL standard, referential constraints, NO ACTION and RESTRICT; CASCADE
 * and SET NULL find the same rows).
 */
public final class ForeignKeyChecks {
  private ForeignKeyChecks() {}

  /**
   * One look-up for each foreign key to a table that a statement deletes from. The id is {@code
   * CHILD#foreign-key(COLUMNS)}, the place that of the foreign key.
   *
   * @param names writes a name as the database reads it
   */
  public static List<QueryText> of(
      Schema schema, Collection<Query> queries, Function<Identifier, String> names) {
    Set<Identifier> deleted = deletedFrom(queries).keySet();
    List<QueryText> checks = new ArrayList<>();
    for (Table child : schema.tables()) {
      Set<String> seen = new TreeSet<>();
      for (ForeignKey key : child.foreignKeys()) {
        if (deleted.contains(key.referencedTable()) && seen.add(key.columns().toString())) {
          checks.add(check(child, key, names));
        }
      }
    }
    return checks;
  }

  /** The tables that statements delete rows from, with the ids of these statements. */
  public static Map<Identifier, Set<String>> deletedFrom(Collection<Query> queries) {
    Map<Identifier, Set<String>> deleted = new TreeMap<>();
    for (Query query : queries) {
      if (query.kind() == StatementKind.DELETE && !query.blocks().isEmpty()) {
        query.blocks().get(0).tables().stream()
            .filter(TableUse::wholeRow)
            .forEach(
                use -> deleted.computeIfAbsent(use.table(), it -> new TreeSet<>()).add(query.id()));
      }
    }
    return deleted;
  }

  private static QueryText check(Table child, ForeignKey key, Function<Identifier, String> names) {
    String id =
        child.name()
            + key.columns().stream()
                .map(Identifier::text)
                .collect(Collectors.joining(", ", "#foreign-key(", ")"));
    String sql =
        "select 1 from "
            + names.apply(child.name())
            + " where "
            + key.columns().stream()
                .map(column -> names.apply(column) + " = ?")
                .collect(Collectors.joining(" and "));
    return new QueryText(id, key.location(), QuerySource.MAPPING, sql, sql);
  }
}
