package dev.colonnade.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import java.util.Locale;
import java.util.Optional;
import net.sf.jsqlparser.expression.BooleanValue;
import net.sf.jsqlparser.expression.DateTimeLiteralExpression;
import net.sf.jsqlparser.expression.DateValue;
import net.sf.jsqlparser.expression.DoubleValue;
import net.sf.jsqlparser.expression.HexValue;
import net.sf.jsqlparser.expression.IntervalExpression;
import net.sf.jsqlparser.expression.LongValue;
import net.sf.jsqlparser.expression.NullValue;
import net.sf.jsqlparser.expression.SignedExpression;
import net.sf.jsqlparser.expression.StringValue;
import net.sf.jsqlparser.expression.TimeValue;
import net.sf.jsqlparser.expression.TimestampValue;

/** Reads literals. */
final class Literals {
  private Literals() {}

  static Optional<Expression> read(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof LongValue number) {
      return literal(number.getStringValue(), LiteralKind.NUMBER);
    }
    if (parsed instanceof DoubleValue number) {
      return literal(number.toString(), LiteralKind.NUMBER);
    }
    if (parsed instanceof StringValue text) {
      return Optional.of(string(text));
    }
    if (parsed instanceof BooleanValue truth) {
      return literal(Boolean.toString(truth.getValue()), LiteralKind.BOOLEAN);
    }
    if (parsed instanceof NullValue) {
      return literal("", LiteralKind.NULL);
    }
    if (parsed instanceof SignedExpression signed && signed.getSign() == '-') {
      return read(signed.getExpression())
          .filter(inner -> inner instanceof Literal it && it.kind() == LiteralKind.NUMBER)
          .map(inner -> new Literal("-" + ((Literal) inner).text(), LiteralKind.NUMBER));
    }
    if (parsed instanceof HexValue hex) {
      return literal(hex.getValue(), LiteralKind.OTHER);
    }
    return temporal(parsed);
  }

  private static Optional<Expression> temporal(net.sf.jsqlparser.expression.Expression parsed) {
    if (parsed instanceof DateTimeLiteralExpression temporal) {
      LiteralKind kind =
          switch (temporal.getType()) {
            case DATE -> LiteralKind.DATE;
            case TIME -> LiteralKind.TIME;
            case DATETIME, TIMESTAMP, TIMESTAMPTZ -> LiteralKind.TIMESTAMP;
          };
      return literal(unquoted(temporal.getValue()), kind);
    }
    if (parsed instanceof DateValue date) {
      return literal(date.getValue().toString(), LiteralKind.DATE);
    }
    if (parsed instanceof TimeValue time) {
      return literal(time.getValue().toString(), LiteralKind.TIME);
    }
    if (parsed instanceof TimestampValue timestamp) {
      return literal(unquoted(timestamp.getRawValue()), LiteralKind.TIMESTAMP);
    }
    if (parsed instanceof IntervalExpression interval
        && (interval.getExpression() == null || read(interval.getExpression()).isPresent())) {
      return literal(parsed.toString().toLowerCase(Locale.ROOT), LiteralKind.OTHER);
    }
    return Optional.empty();
  }

  /** A string; the kinds of prefix that make bytes or bits of it are OTHER. */
  private static Literal string(StringValue value) {
    String prefix = value.getPrefix() == null ? "" : value.getPrefix().toUpperCase(Locale.ROOT);
    boolean dollarQuoted = value.getQuoteStr() != null && value.getQuoteStr().startsWith("$");
    String text = dollarQuoted ? value.getValue() : value.getValue().replace("''", "'");
    boolean escaped = prefix.equals("E") && text.contains("\\");
    return switch (prefix) {
      case "", "N", "E", "U", "Q" ->
          new Literal(text, escaped ? LiteralKind.OTHER : LiteralKind.TEXT);
      default -> new Literal(value.toString(), LiteralKind.OTHER);
    };
  }

  private static String unquoted(String text) {
    return text.length() > 1 && text.startsWith("'") && text.endsWith("'")
        ? text.substring(1, text.length() - 1)
        : text;
  }

  private static Optional<Expression> literal(String text, LiteralKind kind) {
    return Optional.of(new Literal(text, kind));
  }
}
