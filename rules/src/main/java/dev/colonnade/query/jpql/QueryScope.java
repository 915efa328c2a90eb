package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** The names that one SELECT can use, and its FROM clause. */
final class QueryScope {
  final Statement statement;
  final Optional<QueryScope> parent;
  final int number;
  final FromClause from = new FromClause();
  final List<Source> roots = new ArrayList<>();
  final List<Source> fetched = new ArrayList<>();

  /** Aliases of the select list: what stands for them in ORDER BY and GROUP BY. */
  final Map<String, String> selected = new LinkedHashMap<>();

  private final Map<String, Source> sources = new LinkedHashMap<>();

  QueryScope(Statement statement, Optional<QueryScope> parent) {
    this.statement = statement;
    this.parent = parent;
    this.number = statement.nextScope();
  }

  /** Identification variables know no case (Jakarta Persistence 3.2, section 4.4.2). */
  void name(String alias, Source source) {
    sources.put(alias.toLowerCase(Locale.ROOT), source);
  }

  /** What the alias stands for here or in an enclosing query. */
  Optional<Source> source(String alias) {
    Source own = sources.get(alias.toLowerCase(Locale.ROOT));
    return own != null ? Optional.of(own) : parent.flatMap(it -> it.source(alias));
  }
}
