package dev.colonnade.query.jpql;

import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.hibernate.grammars.hql.HqlParser;

/** Translates the functions for which HQL has a syntax of its own, beyond those of JPQL. */
final class FurtherFunctions {
  private final Block block;

  FurtherFunctions(Block block) {
    this.block = block;
  }

  private String sql(HqlParser.ExpressionContext expression) {
    return block.expressions.sql(expression);
  }

  /** {@code pad(x with 10 leading '*')}. */
  String pad(HqlParser.PadFunctionContext pad) {
    String side = pad.padSpecification().LEADING() != null ? "lpad" : "rpad";
    Optional<String> character = Optional.ofNullable(pad.padCharacter()).map(it -> it.getText());
    return block.statement.words.pad(
        side, sql(pad.expression()), sql(pad.padLength().expression()), character);
  }

  /** {@code overlay(x placing y from 2 for 1)}: put together from substrings. */
  String overlay(HqlParser.OverlayFunctionContext overlay) {
    SqlWords words = block.statement.words;
    String text = sql(overlay.overlayFunctionStringArgument().expression());
    String with = sql(overlay.overlayFunctionReplacementArgument().expression());
    String start = sql(overlay.overlayFunctionStartArgument().expression());
    String length =
        overlay.overlayFunctionLengthArgument() == null
            ? words.length(with)
            : sql(overlay.overlayFunctionLengthArgument().expression());
    return words.concat(
        List.of(
            words.substring(text, "1", Optional.of(start + " - 1")),
            with,
            words.substring(text, start + " + " + length, Optional.empty())));
  }

  /** {@code listagg(x, ',') within group (order by x)}. */
  String listagg(HqlParser.ListaggFunctionContext list, String tail) {
    String distinct = list.DISTINCT() != null ? "distinct " : "";
    String item = distinct + block.expressions.sql(list.expressionOrPredicate(0));
    String separator = block.expressions.sql(list.expressionOrPredicate(1));
    Optional<String> order =
        Optional.ofNullable(list.withinGroupClause())
            .map(it -> new Queries(block.statement).orderBy(block, it.orderByClause(), List.of()));
    return block.statement.words.listagg(item, separator, order) + tail;
  }

  /** {@code trunc(x)}, {@code trunc(x, 2)}, {@code trunc(moment, day)}. */
  String trunc(HqlParser.TruncFunctionContext trunc) {
    String value = sql(trunc.expression(0));
    if (trunc.datetimeField() != null) {
      String field = trunc.datetimeField().getText().toLowerCase(Locale.ROOT);
      return block
          .statement
          .words
          .truncated(field, value)
          .orElseThrow(
              () -> UntranslatableException.at(trunc, "this database does not truncate moments"));
    }
    return block.statement.words.truncated(
        value, trunc.expression().size() > 1 ? sql(trunc.expression(1)) : "0", true);
  }

  /** {@code format(x as 'yyyy')}; the letters of the form stay as they are. */
  String format(HqlParser.FormatFunctionContext format) {
    return block
        .statement
        .words
        .formatted(sql(format.expression()), format.format().getText())
        .orElseThrow(
            () -> UntranslatableException.at(format, "this database does not format moments"));
  }

  /** {@code column(b.cargo_tons)}: a column by its own name. */
  String column(HqlParser.ColumnFunctionContext column) {
    EntityUse use = block.paths.entity(block.node(column.path()));
    String name = column.jpaNonstandardFunctionName().getText().replace("'", "");
    return use.column(Identifier.of(name));
  }

  /** {@code timestampadd(day, 3, x)}, {@code timestampdiff(day, x, y)} and their other names. */
  String ofMoments(String name, HqlParser.GenericFunctionContext call) {
    HqlParser.GenericFunctionArgumentsContext arguments = call.genericFunctionArguments();
    List<String> values =
        arguments.expressionOrPredicate().stream().map(block.expressions::sql).toList();
    String field = arguments.datetimeField().getText().toLowerCase(Locale.ROOT);
    SqlWords words = block.statement.words;
    Optional<String> sql =
        values.size() != 2
            ? Optional.empty()
            : switch (name) {
              case "timestampadd", "dateadd" -> words.moved(values.get(1), values.get(0), field);
              case "timestampdiff", "datediff" ->
                  words.difference(values.get(0), values.get(1), field);
              default -> Optional.empty();
            };
    return sql.orElseThrow(
        () -> UntranslatableException.at(call, "durations are not written for this database"));
  }

  /** The units between two moments, where the expression subtracts one from the other. */
  Optional<String> difference(
      HqlParser.ExpressionContext expression, HqlParser.DatetimeFieldContext unit) {
    if (expression instanceof HqlParser.GroupedExpressionContext grouped) {
      return difference(grouped.expression(), unit);
    }
    if (!(expression instanceof HqlParser.AdditionExpressionContext sum)
        || !sum.additiveOperator().getText().equals("-")) {
      return Optional.empty();
    }
    return block.statement.words.difference(
        sql(sum.expression(1)), sql(sum.expression(0)), unit.getText().toLowerCase(Locale.ROOT));
  }

  private static String negative(String amount) {
    return amount.matches("\\d+") ? "-" + amount : "-(" + amount + ")";
  }

  /** A moment and a duration added up. */
  Value moved(HqlParser.AdditionExpressionContext sum, HqlParser.ToDurationExpressionContext by) {
    String moment = sql(sum.expression(0));
    String amount = sql(by.expression());
    String field = by.datetimeField().getText().toLowerCase(Locale.ROOT);
    String sign = sum.additiveOperator().getText();
    return Value.Columns.of(
        block
            .statement
            .words
            .moved(moment, sign.equals("-") ? negative(amount) : amount, field)
            .orElseThrow(
                () ->
                    UntranslatableException.at(
                        sum, "durations are not written for this database")));
  }
}
