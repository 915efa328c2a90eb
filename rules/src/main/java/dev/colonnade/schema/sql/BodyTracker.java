package dev.colonnade.schema.sql;

import java.util.List;
import java.util.Set;

/**
 * Follows the words of one statement and tells whether a semicolon ends it. Inside the body of a
 * routine or block it does not.
 */
final class BodyTracker {
  private static final Set<String> ROUTINES =
      Set.of("PROCEDURE", "FUNCTION", "TRIGGER", "PACKAGE", "EVENT", "TYPE");

  private static final Set<String> TRANSACTION =
      Set.of(
          ";",
          "TRANSACTION",
          "TRAN",
          "WORK",
          "ISOLATION",
          "READ",
          "IMMEDIATE",
          "DEFERRED",
          "EXCLUSIVE",
          "CONCURRENT");

  private boolean body;
  private boolean header;
  private int depth;
  private int pending;

  void reset() {
    body = false;
    header = false;
    depth = 0;
    pending = 0;
  }

  boolean endsAtSemicolon() {
    return !body || (depth <= 0 && pending <= 0);
  }

  /** Takes note of the last word of the statement so far, and of the one behind it. */
  void see(List<SqlToken> current, SqlToken next) {
    SqlToken last = current.get(current.size() - 1);
    if (!body) {
      start(current, last, next);
      return;
    }
    if (last.is(";")) {
      header = false;
    } else if (isRoutine(last) && depth == 0) {
      header = true;
    } else if (last.is("DECLARE") && depth == 0) {
      pending++;
    } else if (last.is("IS") || last.is("AS")) {
      headerEnds(next);
    } else if (last.is("BEGIN") || last.is("CASE")) {
      depth += follows(current, "END") ? 0 : 1;
      pending = Math.max(pending, last.is("BEGIN") ? 1 : 0);
    } else if (last.is("IF") || last.is("LOOP")) {
      depth += depth > 0 && !follows(current, "END") && isStatementStart(current) ? 1 : 0;
    } else if (last.is("DO") || last.is("REPEAT")) {
      depth += depth > 0 && !follows(current, "END") && opensLoop(current, next) ? 1 : 0;
    } else if (last.is("END")) {
      end();
    }
  }

  /** {@code WHILE ... DO} and {@code REPEAT}, but neither a statement DO nor a function REPEAT. */
  private static boolean opensLoop(List<SqlToken> current, SqlToken next) {
    boolean first = isFirst(current);
    return current.get(current.size() - 1).is("DO") ? !first : first && !next.is("(");
  }

  private void start(List<SqlToken> current, SqlToken last, SqlToken next) {
    if (current.size() == 1) {
      boolean block = last.is("BEGIN") && TRANSACTION.stream().noneMatch(next::is);
      body = block || last.is("DECLARE");
      depth = block ? 1 : 0;
      pending = body ? 1 : 0;
      return;
    }
    body =
        current.get(0).is("CREATE")
            && current.size() <= 8
            && isRoutine(last)
            && current.stream().noneMatch(token -> token.is("ON") || token.is("TABLE"));
    header = body;
  }

  private void headerEnds(SqlToken next) {
    if (header && depth == 0 && next.kind() == SqlToken.Kind.WORD && !isOther(next)) {
      pending++;
    }
    header = false;
  }

  /** What stands behind IS or AS where no body follows. */
  private static boolean isOther(SqlToken next) {
    return next.is("LANGUAGE")
        || next.is("NULL")
        || next.is("NOT")
        || next.is("OBJECT")
        || next.is("TABLE")
        || next.is("ENUM")
        || next.is("RANGE")
        || next.is("VARRAY")
        || next.is("OPAQUE")
        || next.is("ASSIGNMENT")
        || next.is("IMPLICIT");
  }

  private void end() {
    if (depth > 0) {
      depth--;
    }
    if (depth == 0 && pending > 0) {
      pending--;
    }
  }

  private static boolean isRoutine(SqlToken token) {
    return token.kind() == SqlToken.Kind.WORD && ROUTINES.stream().anyMatch(token::is);
  }

  private static boolean follows(List<SqlToken> current, String word) {
    return current.size() > 1 && current.get(current.size() - 2).is(word);
  }

  private static boolean isStatementStart(List<SqlToken> current) {
    return isFirst(current) || !current.get(current.size() - 1).is("IF");
  }

  private static boolean isFirst(List<SqlToken> current) {
    SqlToken before = current.get(current.size() - 2);
    return before.is(";")
        || before.is("THEN")
        || before.is("ELSE")
        || before.is("BEGIN")
        || before.is("LOOP")
        || before.is("REPEAT")
        || before.is(":")
        || before.is("DO");
  }
}
