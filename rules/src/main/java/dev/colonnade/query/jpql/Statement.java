package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Mapping;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What all parts of one statement share. */
final class Statement {
  final Mapping mapping;
  final SqlNames names;
  final SqlWords words;

  /** The columns of the common table expressions by the names of both. */
  final Map<String, CommonTable> commonTables = new HashMap<>();

  /** Paths from the first entity to what is read along though the text does not say so. */
  List<String> fetched = List.of();

  private int scopes;

  /**
   * A common table expression.
   *
   * @param name its name in SQL
   * @param columns the columns of each item of its select list
   */
  record CommonTable(String name, Map<String, List<String>> columns) {}

  Statement(Mapping mapping, String database) {
    this.mapping = mapping;
    this.names = new SqlNames(database);
    this.words = new SqlWords(database);
  }

  int nextScope() {
    return ++scopes;
  }
}
