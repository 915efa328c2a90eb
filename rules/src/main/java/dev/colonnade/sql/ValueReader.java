package dev.colonnade.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Expression.ScalarSubquery;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.expression.AnalyticExpression;
import net.sf.jsqlparser.expression.AnalyticType;
import net.sf.jsqlparser.expression.ArrayConstructor;
import net.sf.jsqlparser.expression.BinaryExpression;
import net.sf.jsqlparser.expression.CastExpression;
import net.sf.jsqlparser.expression.CollateExpression;
import net.sf.jsqlparser.expression.DateUnitExpression;
import net.sf.jsqlparser.expression.ExtractExpression;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.IntervalExpression;
import net.sf.jsqlparser.expression.JdbcNamedParameter;
import net.sf.jsqlparser.expression.JdbcParameter;
import net.sf.jsqlparser.expression.JsonExpression;
import net.sf.jsqlparser.expression.MySQLGroupConcat;
import net.sf.jsqlparser.expression.NextValExpression;
import net.sf.jsqlparser.expression.NumericBind;
import net.sf.jsqlparser.expression.SignedExpression;
import net.sf.jsqlparser.expression.TimeKeyExpression;
import net.sf.jsqlparser.expression.TimezoneExpression;
import net.sf.jsqlparser.expression.TranscodingFunction;
import net.sf.jsqlparser.expression.TrimFunction;
import net.sf.jsqlparser.expression.UserVariable;
import net.sf.jsqlparser.expression.operators.conditional.AndExpression;
import net.sf.jsqlparser.expression.operators.conditional.OrExpression;
import net.sf.jsqlparser.expression.operators.conditional.XorExpression;
import net.sf.jsqlparser.expression.operators.relational.ComparisonOperator;
import net.sf.jsqlparser.expression.operators.relational.IsDistinctExpression;
import net.sf.jsqlparser.expression.operators.relational.LikeExpression;
import net.sf.jsqlparser.expression.operators.relational.ParenthesedExpressionList;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.statement.create.table.ColDataType;
import net.sf.jsqlparser.statement.select.AllColumns;
import net.sf.jsqlparser.statement.select.AllTableColumns;
import net.sf.jsqlparser.statement.select.ParenthesedSelect;
import net.sf.jsqlparser.statement.select.Select;

/** Reads values. */
final class ValueReader {
  /** Casts of strings to these change nothing. */
  private static final Set<String> TEXTS = Set.of("text", "varchar", "character varying");

  private final ExpressionContext context;
  private final ExpressionReader reader;

  ValueReader(ExpressionContext context, ExpressionReader reader) {
    this.context = context;
    this.reader = reader;
  }

  Expression read(net.sf.jsqlparser.expression.Expression parsed) {
    Optional<Expression> literal = Literals.read(parsed);
    if (literal.isPresent()) {
      return literal.get();
    }
    Optional<Expression> parameter = parameter(parsed);
    if (parameter.isPresent()) {
      return parameter.get();
    }
    if (parsed instanceof Column column) {
      return column(column);
    }
    if (parsed instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return read(list.get(0));
    }
    if (parsed instanceof BinaryExpression binary && isArithmetic(binary)) {
      return call(
          binary.getStringExpression().strip().toLowerCase(Locale.ROOT),
          List.of(read(binary.getLeftExpression()), read(binary.getRightExpression())));
    }
    if (parsed instanceof Function function) {
      return function(function);
    }
    if (parsed instanceof Select select) {
      Subquery subquery = context.subquery(select, ExpressionContext.SubqueryKind.SCALAR);
      return new ScalarSubquery(subquery.block(), subquery.correlated());
    }
    return special(parsed).orElseGet(() -> opaque(parsed));
  }

  private Optional<Expression> parameter(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof UserVariable variable && variable.isDoubleAdd()) {
      return Optional.of(call(parsed.toString().toLowerCase(Locale.ROOT), List.of()));
    }
    boolean isParameter =
        parsed instanceof JdbcParameter
            || parsed instanceof JdbcNamedParameter
            || parsed instanceof NumericBind
            || parsed instanceof UserVariable;
    return isParameter
        ? Optional.of(new Parameter(context.placeholder(parsed.toString())))
        : Optional.empty();
  }

  private Expression column(Column column) {
    String qualifier = column.getTable() == null ? null : column.getTable().getName();
    Identifier name = Identifier.of(column.getColumnName());
    if (column.getArrayConstructor() != null) {
      Expression base = context.column(Optional.ofNullable(qualifier).map(Identifier::of), name);
      return new OpaqueExpression(text(column), base.columns());
    }
    return context.column(Optional.ofNullable(qualifier).map(Identifier::of), name);
  }

  /** Operators that yield a value; those that yield a truth value are conditions. */
  private static boolean isArithmetic(BinaryExpression binary) {
    return !(binary instanceof ComparisonOperator
        || binary instanceof AndExpression
        || binary instanceof OrExpression
        || binary instanceof XorExpression
        || binary instanceof LikeExpression
        || binary instanceof IsDistinctExpression);
  }

  private Expression function(Function function) {
    String name = function.getName().toLowerCase(Locale.ROOT);
    List<Expression> arguments = new ArrayList<>();
    if (function.getNamedParameters() != null) {
      arguments.addAll(reader.expressions(function.getNamedParameters()));
    } else if (function.getParameters() != null) {
      for (net.sf.jsqlparser.expression.Expression argument : function.getParameters()) {
        Optional<String> word = word(argument);
        if (word.isPresent() && Functions.isUnit(name, arguments.size(), word.get())) {
          arguments.add(new Literal(word.get(), LiteralKind.TEXT));
        } else if (!(argument instanceof AllColumns) || argument instanceof AllTableColumns) {
          arguments.add(read(argument));
        }
      }
    }
    if (Functions.isAggregate(name, arguments.size())) {
      context.aggregate(name, arguments, function.isDistinct() || function.isUnique());
    }
    boolean plain =
        function.getAttribute() == null
            && function.getKeep() == null
            && function.getChainedParameters() == null
            && !function.isDistinct()
            && !function.isUnique()
            && (function.getOrderByElements() == null || function.getOrderByElements().isEmpty());
    return plain
        ? new Call(name, arguments, Functions.isDeterministic(name))
        : opaqueWith(function, arguments);
  }

  /** A word by itself: the name of a column, or of a unit. */
  private static Optional<String> word(net.sf.jsqlparser.expression.Expression argument) {
    if (argument instanceof DateUnitExpression unit) {
      return Optional.of(unit.toString());
    }
    return argument instanceof Column column && column.getTable() == null
        ? Optional.of(column.getColumnName())
        : Optional.empty();
  }

  private Expression opaqueWith(Function function, List<Expression> arguments) {
    Set<ColumnRef> columns = new LinkedHashSet<>();
    arguments.forEach(argument -> columns.addAll(argument.columns()));
    if (function.getOrderByElements() != null) {
      function
          .getOrderByElements()
          .forEach(element -> columns.addAll(read(element.getExpression()).columns()));
    }
    if (function.getKeep() != null) {
      columns.addAll(OpaqueReader.columnsBelow(context, reader, function.getKeep()));
    }
    return new OpaqueExpression(text(function), columns);
  }

  private Optional<Expression> special(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof SignedExpression signed) {
      Expression inner = read(signed.getExpression());
      return Optional.of(
          signed.getSign() == '+' ? inner : call("" + signed.getSign(), List.of(inner)));
    }
    if (parsed instanceof CastExpression cast && cast.getColDataType() != null) {
      Expression inner = read(cast.getLeftExpression());
      String type = type(cast.getColDataType());
      return Optional.of(
          isText(inner) && TEXTS.contains(type) ? inner : call("cast " + type, List.of(inner)));
    }
    if (parsed instanceof TranscodingFunction convert) {
      String name =
          convert.getColDataType() != null
              ? "cast " + type(convert.getColDataType())
              : "convert using " + convert.getTranscodingName().toLowerCase(Locale.ROOT);
      return Optional.of(call(name, List.of(read(convert.getExpression()))));
    }
    if (parsed instanceof ExtractExpression extract) {
      return Optional.of(
          call(
              "extract " + extract.getName().toLowerCase(Locale.ROOT),
              List.of(read(extract.getExpression()))));
    }
    if (parsed instanceof CollateExpression collate) {
      return Optional.of(
          call(
              "collate " + Identifier.of(collate.getCollate()).text(),
              List.of(read(collate.getLeftExpression()))));
    }
    if (parsed instanceof TimeKeyExpression key) {
      String name = key.getStringValue().toLowerCase(Locale.ROOT);
      return Optional.of(
          call(name.endsWith("()") ? name.substring(0, name.length() - 2) : name, List.of()));
    }
    if (parsed instanceof IntervalExpression interval && interval.getExpression() != null) {
      String unit =
          interval.getIntervalQualifier() == null ? "" : " " + interval.getIntervalQualifier();
      return Optional.of(
          call(
              ("interval" + unit).toLowerCase(Locale.ROOT),
              List.of(read(interval.getExpression()))));
    }
    if (parsed instanceof DateUnitExpression unit) {
      // A unit stands in the arguments of a function alone; anywhere else it is a column's name.
      return Optional.of(context.column(Optional.empty(), Identifier.of(unit.toString())));
    }
    if (parsed instanceof NextValExpression next) {
      return Optional.of(
          new Call("nextval", List.of(new Literal(next.getName(), LiteralKind.TEXT)), false));
    }
    return compound(parsed);
  }

  private Optional<Expression> compound(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof TimezoneExpression zoned) {
      Expression value = read(zoned.getLeftExpression());
      for (net.sf.jsqlparser.expression.Expression zone : zoned.getTimezoneExpressions()) {
        value = call("at time zone", List.of(value, read(zone)));
      }
      return Optional.of(value);
    }
    if (parsed instanceof TrimFunction trim) {
      List<Expression> arguments = new ArrayList<>();
      if (trim.getExpression() != null) {
        arguments.add(read(trim.getExpression()));
      }
      if (trim.getFromExpression() != null) {
        arguments.add(read(trim.getFromExpression()));
      }
      String side =
          trim.getTrimSpecification() == null
              ? ""
              : " " + trim.getTrimSpecification().name().toLowerCase(Locale.ROOT);
      return Optional.of(call("trim" + side, arguments));
    }
    if (parsed instanceof ArrayConstructor array) {
      return Optional.of(call("array", reader.expressions(array.getExpressions())));
    }
    if (parsed instanceof JsonExpression json) {
      requireOperator(json);
    }
    if (parsed instanceof JsonExpression json && !ConditionReader.isJsonCondition(json)) {
      Expression value = read(json.getExpression());
      for (var step : json.getIdentList()) {
        value = call(step.getValue(), List.of(value, read(step.getKey())));
      }
      return Optional.of(value);
    }
    if (parsed instanceof AnalyticExpression analytic
        && analytic.getType() == AnalyticType.FILTER_ONLY) {
      List<Expression> arguments =
          analytic.getExpression() == null || analytic.isAllColumns()
              ? List.of()
              : List.of(read(analytic.getExpression()));
      context.aggregate(
          analytic.getName().toLowerCase(Locale.ROOT), arguments, analytic.isDistinct());
    }
    if (parsed instanceof MySQLGroupConcat concat) {
      context.aggregate(
          "group_concat", reader.expressions(concat.getExpressionList()), concat.isDistinct());
    }
    return Optional.empty();
  }

  private Expression opaque(net.sf.jsqlparser.expression.Expression parsed) {
    return new OpaqueExpression(text(parsed), OpaqueReader.columnsBelow(context, reader, parsed));
  }

  private String text(net.sf.jsqlparser.expression.Expression parsed) {
    return context.placeholder(parsed.toString());
  }

  private static Expression call(String name, List<Expression> arguments) {
    return new Call(name, arguments, Functions.isDeterministic(name));
  }

  private static boolean isText(Expression value) {
    return value instanceof Literal literal && literal.kind() == LiteralKind.TEXT;
  }

  /** The type in lower case without blanks inside parentheses: {@code numeric(10,2)}. */
  static String type(ColDataType type) {
    return type.toString()
        .toLowerCase(Locale.ROOT)
        .replaceAll("\\s*\\(\\s*", "(")
        .replaceAll("\\s*,\\s*", ",")
        .replaceAll("\\s*\\)", ")")
        .strip();
  }

  /** The subquery behind any number of parentheses, if that is what stands there. */
  static Optional<Select> subquery(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return subquery(list.get(0));
    }
    if (parsed instanceof ParenthesedSelect select) {
      return Optional.of(select);
    }
    return parsed instanceof Select select ? Optional.of(select) : Optional.empty();
  }

  /**
   * JSqlParser takes {@code a :x} for a path, as a database writes it that is none of ours: here it
   * is a parameter with nothing in front that says what it is compared with.
   */
  static void requireOperator(JsonExpression json) {
    if (json.getIdentList().stream().anyMatch(step -> step.getValue().equals(":"))) {
      throw new UnreadableSqlException("an operator is missing between a name and a parameter");
    }
  }
}
