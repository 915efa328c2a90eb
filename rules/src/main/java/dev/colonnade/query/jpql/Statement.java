package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Filter;
import dev.colonnade.mapping.Mapping;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

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

  /** Names of the filters that are on. */
  private final Set<String> filters;

  /** Names of the filters that could have been on, as far as they matter to the statement. */
  final Set<String> switches = new TreeSet<>();

  Statement(Mapping mapping, String database) {
    this(mapping, database, Set.of());
  }

  Statement(Mapping mapping, String database, Set<String> filters) {
    this.filters = Set.copyOf(filters);
    this.mapping = mapping;
    this.names = new SqlNames(database);
    this.words = new SqlWords(database);
  }

  /** True where the filter restricts rows; notes that it matters. */
  boolean isOn(Filter filter) {
    if (!filter.always()) {
      switches.add(filter.name());
    }
    return filter.always() || filters.contains(filter.name());
  }

  int nextScope() {
    return ++scopes;
  }
}
