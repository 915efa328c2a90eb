package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.SequenceChange;
import java.util.Optional;

/** Reads which sequences there are; what they count is of no interest. */
final class SequenceReader {
  private SequenceReader() {}

  /** Reads on behind CREATE; false where something else is created. */
  static boolean create(StatementContext context, TokenCursor cursor, SourceLocation location) {
    TokenCursor at = cursor.copy();
    at.accept("OR", "REPLACE");
    if (!at.accept("SEQUENCE")) {
      return false;
    }
    at.acceptIfNotExists();
    Identifier name = at.name().written();
    context.add(new SequenceChange(Optional.empty(), Optional.of(name), location));
    return true;
  }

  /** Reads on behind DROP; false where something else is dropped. */
  static boolean drop(StatementContext context, TokenCursor cursor, SourceLocation location) {
    TokenCursor at = cursor.copy();
    if (!at.accept("SEQUENCE")) {
      return false;
    }
    at.acceptIfExists();
    for (TokenCursor part : at.splitAtCommas()) {
      Identifier name = part.name().written();
      context.add(new SequenceChange(Optional.of(name), Optional.empty(), location));
    }
    return true;
  }

  /** Reads on behind ALTER; false where something else is altered. */
  static boolean alter(StatementContext context, TokenCursor cursor, SourceLocation location) {
    TokenCursor at = cursor.copy();
    if (!at.accept("SEQUENCE")) {
      return false;
    }
    at.acceptIfExists();
    Identifier from = at.name().written();
    if (at.accept("RENAME", "TO")) {
      Identifier to = at.name().written();
      context.add(new SequenceChange(Optional.of(from), Optional.of(to), location));
    }
    return true;
  }
}
