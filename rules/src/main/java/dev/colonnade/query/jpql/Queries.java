package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.hibernate.grammars.hql.HqlParser;

/** Translates SELECTs, what is around them and what holds several together. */
final class Queries {
  private final Statement statement;

  Queries(Statement statement) {
    this.statement = statement;
  }

  /**
   * A query whose columns have names.
   *
   * @param columns the columns of each item of its select list
   */
  record Named(String sql, Map<String, List<String>> columns) {}

  /** A query expression with its common table expressions. */
  String expression(
      HqlParser.QueryExpressionContext expression, Optional<QueryScope> parent, boolean whole) {
    String with = with(expression.withClause(), parent);
    StringBuilder sql = new StringBuilder(with);
    List<HqlParser.OrderedQueryContext> queries = expression.orderedQuery();
    for (int i = 0; i < queries.size(); i++) {
      boolean last = i == queries.size() - 1;
      if (i > 0) {
        sql.append(' ').append(operator(expression.setOperator(i - 1))).append(' ');
      }
      boolean several = queries.size() > 1;
      sql.append(ordered(queries.get(i), parent, whole, several && !last, several));
    }
    return sql.toString();
  }

  private String operator(HqlParser.SetOperatorContext operator) {
    String all = operator.ALL() != null ? " all" : "";
    if (operator.UNION() != null) {
      return "union" + all;
    }
    return (operator.INTERSECT() != null ? "intersect" : statement.words.except()) + all;
  }

  private String ordered(
      HqlParser.OrderedQueryContext query,
      Optional<QueryScope> parent,
      boolean whole,
      boolean enclose,
      boolean inSet) {
    if (query instanceof HqlParser.QuerySpecExpressionContext spec) {
      String sql = select(spec, parent, whole, Optional.empty(), inSet);
      boolean limited = spec.limitOffset() != null && spec.limitOffset().getChildCount() > 0;
      boolean ends = spec.orderByClause() != null || limited;
      return enclose && ends ? "(" + sql + ")" : sql;
    }
    if (query instanceof HqlParser.NestedQueryExpressionContext nested) {
      String inner = expression(nested.queryExpression(), parent, whole);
      if (nested.orderByClause() != null) {
        throw UntranslatableException.at(
            nested.orderByClause(), "an order of a query in parentheses is not translated");
      }
      return "(" + inner + ")" + limit(nested.limitOffset(), false);
    }
    HqlParser.QueryOrderExpressionContext order = (HqlParser.QueryOrderExpressionContext) query;
    if (order.orderByClause() == null) {
      return limit(order.limitOffset(), false).strip();
    }
    throw UntranslatableException.at(query, "this order of a query is not translated");
  }

  private String with(HqlParser.WithClauseContext with, Optional<QueryScope> parent) {
    if (with == null) {
      return "";
    }
    List<String> tables = new ArrayList<>();
    boolean recursive = false;
    for (HqlParser.CteContext cte : with.cte()) {
      String name = Block.name(cte.identifier());
      if (cte.searchClause() != null || cte.cycleClause() != null) {
        throw UntranslatableException.at(cte, "SEARCH and CYCLE are not translated");
      }
      String sqlName = statement.names.alias(name);
      boolean readsItself = false;
      List<HqlParser.OrderedQueryContext> parts = cte.queryExpression().orderedQuery();
      if (parts.size() > 1 && parts.get(0) instanceof HqlParser.QuerySpecExpressionContext first) {
        // A part of a union may read the table that it defines: its columns are the first part's.
        Map<String, List<String>> columns = new LinkedHashMap<>();
        select(first, parent, false, Optional.of(columns), false);
        statement.commonTables.put(name, new Statement.CommonTable(sqlName, columns));
        readsItself = Block.written(cte.queryExpression()).matches("(?s).*\\b" + name + "\\b.*");
        recursive |= readsItself;
      }
      Named named = named(cte.queryExpression(), parent);
      statement.commonTables.put(name, new Statement.CommonTable(sqlName, named.columns()));
      // A table that reads itself names its columns: Oracle and H2 ask for that.
      String columns =
          readsItself
              ? "("
                  + String.join(
                      ", ", named.columns().values().stream().flatMap(List::stream).toList())
                  + ")"
              : "";
      tables.add(sqlName + columns + " as (" + named.sql() + ")");
    }
    return "with "
        + (recursive ? statement.words.recursive() : "")
        + String.join(", ", tables)
        + " ";
  }

  /** A query in FROM or WITH: each of its columns has a name. */
  Named named(HqlParser.QueryExpressionContext expression, Optional<QueryScope> parent) {
    Map<String, List<String>> columns = new LinkedHashMap<>();
    StringBuilder sql = new StringBuilder(with(expression.withClause(), parent));
    for (int i = 0; i < expression.orderedQuery().size(); i++) {
      if (i > 0) {
        sql.append(' ').append(operator(expression.setOperator(i - 1))).append(' ');
      }
      if (!(expression.orderedQuery(i) instanceof HqlParser.QuerySpecExpressionContext spec)) {
        throw UntranslatableException.at(expression, "nested queries in FROM are not translated");
      }
      Map<String, List<String>> own = i == 0 ? columns : new LinkedHashMap<>();
      sql.append(select(spec, parent, false, Optional.of(own), false));
    }
    return new Named(sql.toString(), columns);
  }

  /** The number of a query's rows; an order and a limit do not matter. */
  String count(HqlParser.QueryExpressionContext expression) {
    if (expression.orderedQuery().size() != 1
        || expression.withClause() != null
        || !(expression.orderedQuery(0) instanceof HqlParser.QuerySpecExpressionContext spec)
        || spec.query().groupByClause() != null
        || spec.query().fromClause() == null) {
      throw UntranslatableException.at(expression, "the rows of this query are not counted");
    }
    HqlParser.QueryContext query = spec.query();
    Block block = new Block(new QueryScope(statement, Optional.empty()));
    new Sources(block).read(query.fromClause());
    SelectList list = new SelectList(block, false, Optional.empty());
    list.read(query.selectClause());
    List<String> where = new ArrayList<>();
    if (query.whereClause() != null) {
      where.add(block.predicates.where(query.whereClause().predicate()));
    }
    return sql(block.scope, "select " + list.count(), where(block.scope, where));
  }

  /** One SELECT. */
  private String select(
      HqlParser.QuerySpecExpressionContext spec,
      Optional<QueryScope> parent,
      boolean whole,
      Optional<Map<String, List<String>>> named,
      boolean inSet) {
    HqlParser.QueryContext query = spec.query();
    Block block = new Block(new QueryScope(statement, parent));
    block.scope.sortedBy = sortedBy(spec);
    if (query.fromClause() != null) {
      Sources sources = new Sources(block);
      sources.read(query.fromClause());
      if (whole && parent.isEmpty()) {
        sources.fetch(statement.fetched);
      }
    }
    SelectList list = new SelectList(block, whole, named);
    list.read(query.selectClause());
    List<String> where = new ArrayList<>();
    if (query.whereClause() != null) {
      where.add(block.predicates.where(query.whereClause().predicate()));
    }
    String groupBy = groupBy(block, query.groupByClause(), list);
    String having =
        query.havingClause() == null
            ? ""
            : " having " + block.predicates.sql(query.havingClause().predicate());
    String orderBy =
        spec.orderByClause() == null
            ? ""
            : " " + orderBy(block, spec.orderByClause(), inSet ? List.of() : list.items());
    String head = "select " + list.render();
    String tail =
        where(block.scope, where)
            + groupBy
            + having
            + orderBy
            + limit(spec.limitOffset(), !orderBy.isEmpty());
    return sql(block.scope, head, tail);
  }

  private static String sql(QueryScope scope, String head, String tail) {
    if (scope.from.roots.isEmpty()) {
      return head + tail;
    }
    scope.from.dropUnread(head + tail);
    return head + " from " + scope.from.render() + tail;
  }

  private static String sortedBy(HqlParser.QuerySpecExpressionContext spec) {
    HqlParser.GroupByClauseContext groupBy = spec.query().groupByClause();
    return (groupBy == null ? "" : Block.written(groupBy) + " ")
        + (spec.orderByClause() == null ? "" : Block.written(spec.orderByClause()));
  }

  /** Conditions of the query and those that its sources bring along. */
  static String where(QueryScope scope, List<String> written) {
    List<String> conditions = new ArrayList<>();
    for (String condition : written) {
      boolean alone = scope.from.conditions.isEmpty();
      conditions.add(alone ? condition : "(" + condition + ")");
    }
    conditions.addAll(scope.from.conditions);
    return conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions);
  }

  private static String groupBy(
      Block block, HqlParser.GroupByClauseContext groupBy, SelectList list) {
    if (groupBy == null) {
      return "";
    }
    List<String> items = new ArrayList<>();
    for (HqlParser.GroupByExpressionContext item : groupBy.groupByExpression()) {
      if (item.INTEGER_LITERAL() != null) {
        items.add(item.getText());
        continue;
      }
      Value value = groupValue(block, item);
      if (value instanceof Value.Reference reference && list.loads(reference)) {
        EntityUse use = reference.use().get();
        items.addAll(block.statement.words.groupsByKey() ? use.key() : use.allColumns());
      } else {
        items.addAll(
            Block.placed(item, () -> block.comparisons.columns(value, Value.Columns.of(""))));
      }
    }
    return " group by " + String.join(", ", items);
  }

  private static Value groupValue(Block block, HqlParser.GroupByExpressionContext item) {
    if (item.identifier() == null) {
      return block.expressions.value(item.expression());
    }
    String name = Block.name(item.identifier());
    String selected = block.scope.selected.get(name.toLowerCase(Locale.ROOT));
    if (block.scope.source(name).isEmpty() && selected != null) {
      return Value.Columns.of(selected);
    }
    return block.paths.value(block.node(item, List.of(name)));
  }

  /** ORDER BY with its words; aliases of the select list stand for what they name. */
  String orderBy(Block block, HqlParser.OrderByClauseContext orderBy, List<String> selected) {
    List<String> items = new ArrayList<>();
    for (HqlParser.SortSpecificationContext sort : orderBy.sortSpecification()) {
      boolean descending = sort.sortDirection() != null && sort.sortDirection().DESC() != null;
      Optional<Boolean> nullsFirst =
          Optional.ofNullable(sort.nullsPrecedence()).map(it -> it.FIRST() != null);
      for (String term : terms(block, sort.sortExpression(), selected)) {
        items.add(statement.words.sorted(term, descending, nullsFirst));
      }
    }
    return "order by " + String.join(", ", items);
  }

  private static List<String> terms(
      Block block, HqlParser.SortExpressionContext sort, List<String> selected) {
    if (sort.INTEGER_LITERAL() != null) {
      int place = Integer.parseInt(sort.getText());
      return List.of(
          place >= 1 && place <= selected.size()
              ? placed(selected.get(place - 1), selected)
              : sort.getText());
    }
    if (sort.identifier() != null) {
      String name = Block.name(sort.identifier());
      String item = block.scope.selected.get(name.toLowerCase(Locale.ROOT));
      if (item != null) {
        return List.of(placed(item, selected));
      }
      Value value = block.paths.value(block.node(sort, List.of(name)));
      return block.comparisons.columns(value, Value.Columns.of(""));
    }
    String text = sort.getText().toLowerCase(Locale.ROOT);
    if (block.scope.selected.containsKey(text) && block.scope.source(text).isEmpty()) {
      return List.of(block.scope.selected.get(text));
    }
    Value value = block.expressions.value(sort.expression());
    return Block.placed(sort, () -> block.comparisons.columns(value, Value.Columns.of("")));
  }

  /** An item of the select list as a term of the order: a subquery is named by its place. */
  private static String placed(String item, List<String> selected) {
    int place = item.contains("(select ") ? selected.indexOf(item) + 1 : 0;
    return place > 0 ? String.valueOf(place) : item;
  }

  private String limit(HqlParser.LimitOffsetContext limits, boolean ordered) {
    if (limits == null) {
      return "";
    }
    Optional<String> limit =
        Optional.ofNullable(limits.limitClause())
            .map(it -> it.parameterOrIntegerLiteral().getText());
    Optional<String> offset =
        Optional.ofNullable(limits.offsetClause())
            .map(it -> it.parameterOrIntegerLiteral().getText());
    HqlParser.FetchClauseContext fetch = limits.fetchClause();
    if (fetch != null) {
      if (fetch.fetchCountOrPercent().PERCENT() != null) {
        throw UntranslatableException.at(fetch, "a limit in percent is not translated");
      }
      if (fetch.TIES() != null) {
        Optional<String> ties =
            limits.offsetClause() != null
                ? Optional.empty()
                : statement.words.withTies(fetch.fetchCountOrPercent().getText());
        return ties.orElseThrow(
            () -> UntranslatableException.at(fetch, "WITH TIES is not written for this database"));
      }
      limit = Optional.of(fetch.fetchCountOrPercent().getText());
    }
    return statement.words.limit(limit, offset, ordered);
  }
}
