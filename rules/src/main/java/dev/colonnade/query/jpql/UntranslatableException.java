package dev.colonnade.query.jpql;

import org.antlr.v4.runtime.ParserRuleContext;
import org.antlr.v4.runtime.Token;

/** Something in a query that is not understood, and where. */
final class UntranslatableException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int line;
  private final int column;

  UntranslatableException(String reason, int line, int column) {
    super(reason, null, false, false);
    this.line = line;
    this.column = column;
  }

  /** At the start of a part of the text. */
  static UntranslatableException at(ParserRuleContext place, String reason) {
    Token start = place.getStart();
    return new UntranslatableException(reason, start.getLine(), start.getCharPositionInLine() + 1);
  }

  int line() {
    return line;
  }

  int column() {
    return column;
  }
}
