package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;
import org.hibernate.grammars.hql.HqlParser;

/** Translates calls of functions. A function that JPQL does not know is the database's own. */
final class Functions {
  private final Block block;

  Functions(Block block) {
    this.block = block;
  }

  Value value(HqlParser.FunctionContext function) {
    if (function.toOneFkReference() != null) {
      return block.paths.foreignKey(block.node(function.toOneFkReference().path()));
    }
    if (function.genericFunction() != null) {
      return generic(function.genericFunction());
    }
    return Value.Columns.of(sql(function));
  }

  private String sql(HqlParser.FunctionContext function) {
    if (function.standardFunction() != null) {
      return new StandardFunctions(block).sql(function.standardFunction());
    }
    if (function.collectionSizeFunction() != null) {
      return block
          .predicates
          .rows(block.node(function.collectionSizeFunction().path()))
          .select("count(*)");
    }
    if (function.jpaNonstandardFunction() != null) {
      HqlParser.JpaNonstandardFunctionContext call = function.jpaNonstandardFunction();
      String name = call.jpaNonstandardFunctionName().getText().replace("'", "");
      List<String> arguments =
          call.genericFunctionArguments() == null
              ? List.of()
              : arguments(call.genericFunctionArguments());
      return name + "(" + String.join(", ", arguments) + ")";
    }
    if (function.aggregateFunction() != null) {
      return aggregate(function.aggregateFunction());
    }
    if (function.collectionAggregateFunction()
        instanceof HqlParser.ElementAggregateFunctionContext element) {
      String name = element.getStart().getText().toLowerCase(Locale.ROOT).replace("element", "");
      Joiner.CollectionRows rows = block.predicates.rows(block.node(element.path()));
      return rows.select(name + "(" + rows.keys().get(0) + ")");
    }
    if (function.collectionAggregateFunction()
        instanceof HqlParser.IndexAggregateFunctionContext index) {
      String name = index.getStart().getText().toLowerCase(Locale.ROOT).replace("index", "");
      Joiner.CollectionRows rows = block.predicates.rows(block.node(index.path()));
      String key =
          rows.key()
              .orElseThrow(
                  () ->
                      UntranslatableException.at(
                          index, "the key or index is no column of its own"));
      return rows.select(name + "(" + key + ")");
    }
    if (function.columnFunction() != null) {
      return new FurtherFunctions(block).column(function.columnFunction());
    }
    throw UntranslatableException.at(function, "this function is not translated");
  }

  private List<String> arguments(HqlParser.GenericFunctionArgumentsContext arguments) {
    return arguments.expressionOrPredicate().stream().map(block.expressions::sql).toList();
  }

  private Value generic(HqlParser.GenericFunctionContext call) {
    String name = call.genericFunctionName().getText();
    String lower = name.toLowerCase(Locale.ROOT);
    if (call.nthSideClause() != null || call.nullsClause() != null) {
      throw UntranslatableException.at(call, "this form of a function is not translated");
    }
    HqlParser.GenericFunctionArgumentsContext written = call.genericFunctionArguments();
    if (lower.equals("count")) {
      return Value.Columns.of(count(call) + filter(call.filterClause()) + over(call.overClause()));
    }
    if (written != null && written.datetimeField() != null) {
      return Value.Columns.of(new FurtherFunctions(block).ofMoments(lower, call));
    }
    if (lower.equals("index") && written != null) {
      throw UntranslatableException.at(call, "the index is no column of its own");
    }
    List<Value> values =
        written == null
            ? List.of()
            : written.expressionOrPredicate().stream().map(block.expressions::value).toList();
    List<String> arguments = coordinated(lower, values, call);
    String distinct = written != null && written.DISTINCT() != null ? "distinct " : "";
    String within =
        call.withinGroupClause() == null
            ? ""
            : " within group ("
                + new Queries(block.statement)
                    .orderBy(block, call.withinGroupClause().orderByClause(), List.of())
                + ")";
    String sql =
        plain(name, lower, distinct, arguments)
            + within
            + filter(call.filterClause())
            + over(call.overClause());
    boolean sameType =
        switch (lower) {
          case "min", "max", "coalesce", "nullif", "ifnull" -> true;
          default -> false;
        };
    return sameType && !values.isEmpty() && values.get(0) instanceof Value.Columns first
        ? new Value.Columns(List.of(sql), first.type())
        : Value.Columns.of(sql);
  }

  /** Arguments of one type take their form from the first that has one. */
  private List<String> coordinated(
      String name, List<Value> values, HqlParser.GenericFunctionContext call) {
    boolean alike = name.equals("coalesce") || name.equals("nullif");
    Value model =
        alike
            ? values.stream()
                .filter(it -> it instanceof Value.Columns columns && columns.type().isPresent())
                .findFirst()
                .orElse(Value.Columns.of(""))
            : Value.Columns.of("");
    List<String> result = new ArrayList<>();
    for (Value value : values) {
      List<String> columns = Block.placed(call, () -> block.comparisons.columns(value, model));
      if (columns.size() != 1) {
        throw UntranslatableException.at(call, "an argument has several columns");
      }
      result.add(columns.get(0));
    }
    return result;
  }

  private String plain(String name, String lower, String distinct, List<String> arguments) {
    SqlWords words = block.statement.words;
    int count = arguments.size();
    return switch (lower) {
      case "concat" -> words.concat(arguments);
      case "length", "character_length" -> words.length(arguments.get(0));
      case "locate" ->
          words.locate(
              arguments.get(0),
              arguments.get(1),
              count > 2 ? Optional.of(arguments.get(2)) : Optional.empty());
      case "mod" -> words.mod(arguments.get(0), arguments.get(1));
      case "substring" ->
          words.substring(
              arguments.get(0),
              arguments.get(1),
              count > 2 ? Optional.of(arguments.get(2)) : Optional.empty());
      case "year", "month", "day", "hour", "minute", "second" ->
          count == 1
              ? words.extract(lower, arguments.get(0)).orElseGet(() -> call(name, arguments))
              : call(name, arguments);
      case "left", "right" ->
          count == 2
              ? words.side(lower, arguments.get(0), arguments.get(1))
              : call(name, arguments);
      case "ifnull" -> call("coalesce", arguments);
      case "ceiling" -> words.ceiling(arguments.get(0));
      case "sql" -> template(arguments);
      case "lpad", "rpad" ->
          count > 1
              ? words.pad(
                  lower,
                  arguments.get(0),
                  arguments.get(1),
                  count > 2 ? Optional.of(arguments.get(2)) : Optional.empty())
              : call(name, arguments);
      case "str" -> words.cast(arguments.get(0), "String", "");
      default -> name + "(" + distinct + String.join(", ", arguments) + ")";
    };
  }

  private static String call(String name, List<String> arguments) {
    return name + "(" + String.join(", ", arguments) + ")";
  }

  /** {@code sql('...', x)}: each question mark stands for the next argument. */
  private static String template(List<String> arguments) {
    String text = arguments.get(0);
    StringBuilder result = new StringBuilder();
    int next = 1;
    for (char c : text.substring(1, text.length() - 1).replace("''", "'").toCharArray()) {
      boolean place = c == '?' && next < arguments.size();
      result.append(place ? arguments.get(next++) : String.valueOf(c));
    }
    return "(" + result + ")";
  }

  /** {@code count}: of an entity its identifier is counted. */
  private String count(HqlParser.GenericFunctionContext call) {
    HqlParser.GenericFunctionArgumentsContext arguments = call.genericFunctionArguments();
    if (arguments == null) {
      return "count(*)";
    }
    boolean distinct = arguments.DISTINCT() != null;
    Value counted = Value.identity(block.expressions.value(arguments.expressionOrPredicate(0)));
    List<String> columns =
        Block.placed(call, () -> block.comparisons.columns(counted, Value.Columns.of("")));
    if (columns.size() == 1) {
      return "count(" + (distinct ? "distinct " : "") + columns.get(0) + ")";
    }
    if (!distinct) {
      boolean present =
          counted instanceof Value.Reference reference
              && block.scope.roots.stream()
                  .anyMatch(root -> root == reference.use().get() && !isOuter(root));
      return present ? "count(*)" : "count(" + columns.get(0) + ")";
    }
    return "count(distinct " + Comparisons.tuple(columns) + ")";
  }

  private static boolean isOuter(Source source) {
    return source instanceof EntityUse use && use.outer;
  }

  private String filter(HqlParser.FilterClauseContext filter) {
    return filter == null
        ? ""
        : " filter (where " + block.predicates.sql(filter.whereClause().predicate()) + ")";
  }

  private String over(HqlParser.OverClauseContext over) {
    if (over == null) {
      return "";
    }
    List<String> parts = new ArrayList<>();
    if (over.partitionClause() != null) {
      parts.add(
          "partition by "
              + String.join(
                  ", ",
                  over.partitionClause().expression().stream()
                      .map(block.expressions::sql)
                      .toList()));
    }
    if (over.orderByClause() != null) {
      parts.add(new Queries(block.statement).orderBy(block, over.orderByClause(), List.of()));
    }
    if (over.frameClause() != null) {
      parts.add(Block.written(over.frameClause()).toLowerCase(Locale.ROOT));
    }
    return " over (" + String.join(" ", parts) + ")";
  }

  private String aggregate(HqlParser.AggregateFunctionContext aggregate) {
    HqlParser.EveryFunctionContext every = aggregate.everyFunction();
    if (every != null && every.predicate() != null) {
      return block.statement.words.group(true, block.predicates.sql(every.predicate()))
          + filter(every.filterClause())
          + over(every.overClause());
    }
    if (every != null && every.subquery() != null) {
      return "all " + block.subquery(every.subquery());
    }
    if (every != null && every.collectionQuantifier() != null) {
      return "all " + elements(every, () -> Block.names(every.simplePath()));
    }
    HqlParser.AnyFunctionContext any = aggregate.anyFunction();
    if (any != null && any.predicate() != null) {
      return block.statement.words.group(false, block.predicates.sql(any.predicate()))
          + filter(any.filterClause())
          + over(any.overClause());
    }
    if (any != null && any.subquery() != null) {
      return "any " + block.subquery(any.subquery());
    }
    if (any != null && any.collectionQuantifier() != null) {
      return "any " + elements(any, () -> Block.names(any.simplePath()));
    }
    HqlParser.ListaggFunctionContext list = aggregate.listaggFunction();
    if (list != null) {
      return new FurtherFunctions(block)
          .listagg(list, filter(list.filterClause()) + over(list.overClause()));
    }
    throw UntranslatableException.at(aggregate, "this aggregate function is not translated");
  }

  private String elements(
      org.antlr.v4.runtime.ParserRuleContext place, Supplier<List<String>> names) {
    Joiner.CollectionRows rows = block.predicates.rows(block.node(place, names.get()));
    return rows.select(String.join(", ", rows.keys()));
  }
}
