package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Reads the parts of an index key: columns or expressions, each with direction, NULL order, prefix
 * length, operator class and collation.
 */
final class KeyReader {
  private final StatementContext context;

  KeyReader(StatementContext context) {
    this.context = context;
  }

  /** The parts of a key in parentheses. */
  List<KeyColumn> key(TokenCursor cursor) {
    List<KeyColumn> parts = new ArrayList<>();
    for (TokenCursor part : cursor.group().splitAtCommas()) {
      parts.add(part(part));
    }
    if (parts.isEmpty()) {
      throw cursor.unexpected("expected columns");
    }
    return parts;
  }

  private KeyColumn part(TokenCursor cursor) {
    SourceLocation location = context.at(cursor);
    OptionalInt prefix = OptionalInt.empty();
    Optional<String> collation = Optional.empty();
    Expression value;
    if (isWholeGroup(cursor)) {
      KeyColumn inner = part(cursor.group());
      value = inner.value();
      collation = inner.collation();
    } else if (isPlainColumn(cursor)) {
      Identifier column = cursor.identifier();
      value = new ColumnRef(ColumnRef.SELF, column);
      if (isPrefixLength(cursor)) {
        prefix = OptionalInt.of(Integer.parseInt(cursor.group().next().text()));
      }
    } else {
      value = context.expression(expressionText(cursor), location);
    }
    Optional<String> operatorClass = Optional.empty();
    NullOrder nulls = NullOrder.DEFAULT;
    boolean descending = false;
    while (!cursor.atEnd()) {
      if (cursor.accept("COLLATE")) {
        collation = Optional.of(cursor.name().name().text());
      } else if (cursor.accept("DESC")) {
        descending = true;
      } else if (cursor.accept("ASC") || cursor.accept("RANDOM")) {
        descending = false;
      } else if (cursor.accept("NULLS", "FIRST")) {
        nulls = NullOrder.FIRST;
      } else if (cursor.accept("NULLS", "LAST")) {
        nulls = NullOrder.LAST;
      } else if (cursor.accept("WITH")) {
        cursor.rest();
      } else if (cursor.peek().isName()) {
        operatorClass = Optional.of(cursor.name().name().text().toLowerCase(Locale.ROOT));
        cursor.skipGroup();
      } else {
        throw cursor.unexpected("index key not understood");
      }
    }
    return new KeyColumn(value, descending, nulls, prefix, operatorClass, collation);
  }

  /** True when parentheses enclose all but what says how the value is indexed. */
  private static boolean isWholeGroup(TokenCursor cursor) {
    if (!cursor.looksAt("(")) {
      return false;
    }
    TokenCursor behind = cursor.copy();
    behind.group();
    return behind.atEnd()
        || isModifier(behind)
        || (behind.peek().isName() && !isOperatorWord(behind.peek()));
  }

  private static boolean isPlainColumn(TokenCursor cursor) {
    boolean operator = cursor.looksAt("CASE") || cursor.looksAt("NOT");
    if (!cursor.peek().isName() || (operator && cursor.size() > 1)) {
      return false;
    }
    SqlToken second = cursor.peek(1);
    if (second.is("(")) {
      return cursor.peek(2).kind() == SqlToken.Kind.NUMBER && cursor.peek(3).is(")");
    }
    return second.text().isEmpty() || (second.isName() && !isOperatorWord(second));
  }

  private static boolean isPrefixLength(TokenCursor cursor) {
    return cursor.looksAt("(") && cursor.peek(1).kind() == SqlToken.Kind.NUMBER;
  }

  /** Passes an expression: up to a word that says how it is indexed, outside parentheses. */
  private static String expressionText(TokenCursor cursor) {
    int start = cursor.offset();
    boolean operand = false;
    while (!cursor.atEnd() && !isModifier(cursor)) {
      if (operand && cursor.peek().isName() && !isOperatorWord(cursor.peek())) {
        break;
      }
      if (cursor.looksAt("(")) {
        cursor.group();
        operand = true;
      } else {
        SqlToken token = cursor.next();
        operand = token.kind() != SqlToken.Kind.SIGN && !isOperatorWord(token);
      }
    }
    return cursor.textFrom(start);
  }

  private static boolean isModifier(TokenCursor cursor) {
    return cursor.looksAt("COLLATE")
        || cursor.looksAt("DESC")
        || cursor.looksAt("ASC")
        || cursor.looksAt("NULLS");
  }

  private static boolean isOperatorWord(SqlToken token) {
    return token.is("AND")
        || token.is("OR")
        || token.is("NOT")
        || token.is("IS")
        || token.is("NULL")
        || token.is("LIKE")
        || token.is("IN")
        || token.is("BETWEEN")
        || token.is("DIV")
        || token.is("MOD")
        || token.is("AT")
        || token.is("TIME")
        || token.is("ZONE")
        || token.is("CASE")
        || token.is("WHEN")
        || token.is("THEN")
        || token.is("ELSE")
        || token.is("END");
  }
}
