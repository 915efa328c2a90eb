package dev.colonnade.query.jpql;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.hibernate.grammars.hql.HqlParser;

/** Translates the functions for which JPQL and HQL have a syntax of their own. */
final class StandardFunctions {
  private final Block block;

  StandardFunctions(Block block) {
    this.block = block;
  }

  /** A call. */
  String sql(HqlParser.StandardFunctionContext function) {
    SqlWords words = block.statement.words;
    if (function.castFunction() != null) {
      HqlParser.CastFunctionContext cast = function.castFunction();
      String type = cast.castTarget().castTargetType().getText();
      String length = cast.castTarget().getText().substring(type.length());
      return words.cast(block.expressions.sql(cast.expression()), type, length);
    }
    if (function.extractFunction() != null) {
      return extract(function.extractFunction());
    }
    if (function.substringFunction() != null) {
      HqlParser.SubstringFunctionContext part = function.substringFunction();
      return words.substring(
          block.expressions.sql(part.expression()),
          block.expressions.sql(part.substringFunctionStartArgument().expression()),
          Optional.ofNullable(part.substringFunctionLengthArgument())
              .map(length -> block.expressions.sql(length.expression())));
    }
    if (function.trimFunction() != null) {
      return trim(function.trimFunction());
    }
    FurtherFunctions further = new FurtherFunctions(block);
    if (function.padFunction() != null) {
      return further.pad(function.padFunction());
    }
    if (function.overlayFunction() != null) {
      return further.overlay(function.overlayFunction());
    }
    if (function.formatFunction() != null) {
      return further.format(function.formatFunction());
    }
    if (function.cube() != null || function.rollup() != null) {
      List<HqlParser.ExpressionOrPredicateContext> parts =
          function.cube() != null
              ? function.cube().expressionOrPredicate()
              : function.rollup().expressionOrPredicate();
      return (function.cube() != null ? "cube(" : "rollup(")
          + String.join(", ", parts.stream().map(block.expressions::sql).toList())
          + ")";
    }
    if (function.truncFunction() != null) {
      return further.trunc(function.truncFunction());
    }
    if (function.positionFunction() != null) {
      return words.locate(
          block.expressions.sql(
              function.positionFunction().positionFunctionPatternArgument().expression()),
          block.expressions.sql(
              function.positionFunction().positionFunctionStringArgument().expression()),
          Optional.empty());
    }
    if (function.currentDateFunction() != null || function.localDateFunction() != null) {
      return words.now("current_date");
    }
    if (function.currentTimeFunction() != null || function.localTimeFunction() != null) {
      return words.now("current_time");
    }
    if (function.localDateTimeFunction() != null) {
      return words.now("local_datetime");
    }
    if (function.currentTimestampFunction() != null
        || function.instantFunction() != null
        || function.offsetDateTimeFunction() != null) {
      return words.now("current_timestamp");
    }
    if (function.collateFunction() != null) {
      HqlParser.CollateFunctionContext collate = function.collateFunction();
      return "("
          + block.expressions.sql(collate.expression())
          + " collate "
          + Block.written(collate.collation())
          + ")";
    }
    throw UntranslatableException.at(function, "this function is not translated");
  }

  private String extract(HqlParser.ExtractFunctionContext extract) {
    String field =
        Block.written(
                extract.extractField() != null ? extract.extractField() : extract.datetimeField())
            .toLowerCase(Locale.ROOT);
    String subject = block.expressions.sql(extract.expression());
    return switch (field) {
      case "date", "time" -> "cast(" + subject + " as " + field + ")";
      case "year", "month", "day", "hour", "minute", "second", "quarter", "week" ->
          field(extract, field, subject);
      case "epoch" -> field(extract, field, subject);
      case "day of month" -> field(extract, "day", subject);
      case "week of year", "week of month" -> field(extract, "week", subject);
      case "day of week" -> block.statement.words.dayOf("week", subject);
      case "day of year" -> block.statement.words.dayOf("year", subject);
      default ->
          throw UntranslatableException.at(extract, "the field " + field + " is not translated");
    };
  }

  private String field(HqlParser.ExtractFunctionContext place, String field, String moment) {
    return block
        .statement
        .words
        .extract(field, moment)
        .orElseThrow(
            () -> UntranslatableException.at(place, "this database does not extract " + field));
  }

  private String trim(HqlParser.TrimFunctionContext trim) {
    String subject = block.expressions.sql(trim.expression());
    String side =
        trim.trimSpecification() == null
            ? ""
            : trim.trimSpecification().getText().toLowerCase(Locale.ROOT) + " ";
    String character = "";
    if (trim.trimCharacter() != null) {
      character =
          trim.trimCharacter().parameter() != null
              ? Expressions.parameter(trim.trimCharacter().parameter()) + " "
              : trim.trimCharacter().getText() + " ";
    }
    return side.isEmpty() && character.isEmpty()
        ? "trim(" + subject + ")"
        : "trim(" + side + character + "from " + subject + ")";
  }
}
