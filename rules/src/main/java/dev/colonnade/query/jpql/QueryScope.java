package dev.colonnade.query.jpql;

import static java.util.stream.Collectors.joining;

import dev.colonnade.mapping.Entity;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

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

  /** Under tables per class: the classes whose rows an alias can stand for, where not for all. */
  final Map<String, List<Entity>> classes = new LinkedHashMap<>();

  /** True while a condition is translated without which no row is in the result. */
  boolean certain;

  /** What the query groups and orders by, as it is written. */
  String sortedBy = "";

  private final Map<String, Source> sources = new LinkedHashMap<>();

  QueryScope(Statement statement, Optional<QueryScope> parent) {
    this.statement = statement;
    this.parent = parent;
    this.number = statement.nextScope();
  }

  /** True where the query groups or orders by the entity itself or by its identifier. */
  boolean sorts(EntityUse use) {
    String id =
        use.entity.id().stream().map(it -> "|" + Pattern.quote(it.name())).collect(joining());
    String by = "(?i)(?<![\\w.])" + Pattern.quote(use.alias) + "(?!\\w|\\.(?!(id" + id + ")\\b))";
    return Pattern.compile(by).matcher(sortedBy).find();
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
