package dev.colonnade.query.jpql;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.antlr.v4.runtime.ParserRuleContext;
import org.hibernate.grammars.hql.HqlParser;

/** Translates literals. */
final class Literals {
  private static final Pattern QUOTED = Pattern.compile("'[^']*'");
  private static final Pattern MOMENT =
      Pattern.compile("\\d{4,}-\\d{1,2}-\\d{1,2}([ T]+\\d.*)?|\\d{1,2}:\\d{2}.*");

  private Literals() {}

  static Value read(HqlParser.LiteralContext literal, SqlWords words) {
    if (literal.booleanLiteral() != null) {
      return new Value.Truth(literal.booleanLiteral().TRUE() != null);
    }
    if (literal.numericLiteral() != null) {
      return Value.Columns.of(number(literal.numericLiteral()));
    }
    if (literal.STRING_LITERAL() != null) {
      return Value.Columns.of(literal.getText());
    }
    if (literal.JAVA_STRING_LITERAL() != null) {
      String text = literal.getText();
      return Value.Columns.of(
          "'" + text.substring(text.indexOf('"') + 1, text.length() - 1).replace("'", "''") + "'");
    }
    if (literal.NULL() != null) {
      return Value.Columns.of("null");
    }
    if (literal.temporalLiteral() != null) {
      return Value.Columns.of(moment(literal.temporalLiteral(), words));
    }
    throw UntranslatableException.at(literal, "a literal of this kind is not translated");
  }

  /** A number without the letters that tell Java's types apart. */
  static String number(ParserRuleContext literal) {
    String text = literal.getText().toLowerCase(Locale.ROOT).replace("_", "");
    if (text.startsWith("0x")) {
      return Long.toString(Long.decode(text.replaceAll("l$", "")));
    }
    return text.replaceAll("(bi|bd|l|f|d)$", "");
  }

  private static String moment(HqlParser.TemporalLiteralContext literal, SqlWords words) {
    String kind =
        literal.dateTimeLiteral() != null || literal.jdbcTimestampLiteral() != null
            ? "timestamp"
            : literal.dateLiteral() != null || literal.jdbcDateLiteral() != null ? "date" : "time";
    String written = Block.written(literal);
    Matcher quoted = QUOTED.matcher(written);
    if (quoted.find()) {
      return words.moment(kind, quoted.group());
    }
    Matcher plain = MOMENT.matcher(written.replaceAll("}$", "").strip());
    if (plain.find()) {
      return words.moment(kind, "'" + plain.group().strip() + "'");
    }
    throw UntranslatableException.at(literal, "a moment of this form is not translated");
  }
}
