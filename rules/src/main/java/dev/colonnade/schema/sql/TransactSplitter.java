package dev.colonnade.schema.sql;

import dev.colonnade.schema.sql.GuardedStatement.Guard;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * Cuts a batch of SQL Server's language into statements. A semicolon between them may be missing;
 * then the next one is known by its first word, at the start of a line
 * (https://learn.microsoft.com/sql/t-sql/language-elements/transact-sql-syntax-conventions-transact-sql).
 * What stands in a routine's body is no statement of the batch.
 */
final class TransactSplitter {
  private static final Set<String> STARTS =
      Set.of(
          "CREATE",
          "ALTER",
          "DROP",
          "EXEC",
          "EXECUTE",
          "IF",
          "ELSE",
          "WHILE",
          "BEGIN",
          "END",
          "INSERT",
          "UPDATE",
          "DELETE",
          "SELECT",
          "MERGE",
          "SET",
          "DECLARE",
          "PRINT",
          "GRANT",
          "REVOKE",
          "DENY",
          "TRUNCATE",
          "USE",
          "COMMIT",
          "ROLLBACK",
          "RAISERROR",
          "THROW",
          "RETURN",
          "GOTO",
          "WAITFOR",
          "OPEN",
          "FETCH",
          "CLOSE",
          "DEALLOCATE",
          "BULK",
          "SP_RENAME");

  private static final Set<String> ROUTINES = Set.of("PROCEDURE", "PROC", "FUNCTION", "TRIGGER");

  private static final Set<String> DROPPED =
      Set.of(
          "TABLE",
          "INDEX",
          "VIEW",
          "PROCEDURE",
          "PROC",
          "FUNCTION",
          "TRIGGER",
          "SEQUENCE",
          "SYNONYM",
          "TYPE",
          "SCHEMA",
          "USER",
          "ROLE",
          "STATISTICS",
          "DATABASE",
          "FULLTEXT",
          "RULE",
          "DEFAULT",
          "LOGIN",
          "XML",
          "SECURITY");

  private final String sql;
  private final List<SqlToken> tokens;
  private final List<GuardedStatement> statements = new ArrayList<>();
  private int at;

  private TransactSplitter(String sql, List<SqlToken> tokens) {
    this.sql = sql;
    this.tokens = tokens;
  }

  /** The statements of a batch; those in IF, WHILE and BEGIN with what stands around them. */
  static List<GuardedStatement> split(String sql, List<SqlToken> batch) {
    TransactSplitter splitter = new TransactSplitter(sql, batch);
    while (splitter.at < batch.size()) {
      splitter.statement(Guard.NONE, List.of());
    }
    return splitter.statements;
  }

  private SqlToken token(int index) {
    return index < tokens.size()
        ? tokens.get(index)
        : new SqlToken(SqlToken.Kind.SIGN, "", sql.length(), sql.length());
  }

  private boolean looksAt(String word) {
    return token(at).is(word);
  }

  private void statement(Guard guard, List<SqlToken> condition) {
    if (looksAt(";") || looksAt("ELSE") || looksAt("END")) {
      at++;
    } else if (looksAt("IF")) {
      conditional(guard);
    } else if (looksAt("WHILE")) {
      condition();
      statement(Guard.LOOP, condition);
    } else if (looksAt("BEGIN") && opensBlock(at)) {
      block(guard, condition);
    } else {
      int start = at;
      at = endOfSimple(at);
      statements.add(new GuardedStatement(tokens.subList(start, at), guard, condition));
    }
  }

  private void conditional(Guard outer) {
    boolean loop = outer == Guard.LOOP;
    condition();
    List<SqlToken> before = tokens.subList(0, at);
    statement(loop ? Guard.LOOP : Guard.CONDITION, before);
    if (looksAt(";") && token(at + 1).is("ELSE")) {
      at++;
    }
    if (looksAt("ELSE")) {
      at++;
      statement(loop ? Guard.LOOP : Guard.OTHERWISE, before);
    }
  }

  /** Passes IF or WHILE and the condition behind it. */
  private void condition() {
    at++;
    while (at < tokens.size() && !looksAt(";")) {
      if (looksAt("(")) {
        at = behindGroup(at);
      } else if (isStart(at) || isRename(at)) {
        return;
      } else {
        at++;
      }
    }
  }

  private void block(Guard guard, List<SqlToken> condition) {
    at++;
    Guard inside = guard;
    if (looksAt("TRY")) {
      at++;
      inside = guard == Guard.NONE ? Guard.CAUGHT : guard;
    } else if (looksAt("CATCH")) {
      at++;
      inside = Guard.HANDLER;
    }
    while (at < tokens.size() && !looksAt("END")) {
      statement(inside, condition);
    }
    at++;
    if (looksAt("TRY") || looksAt("CATCH")) {
      at++;
    }
  }

  private boolean opensBlock(int index) {
    SqlToken next = token(index + 1);
    return !next.is("TRAN")
        && !next.is("TRANSACTION")
        && !next.is("DISTRIBUTED")
        && !next.is("DIALOG")
        && !next.is("CONVERSATION");
  }

  private int endOfSimple(int start) {
    if (isRoutine(start)) {
      return endOfRoutine(start);
    }
    int index = start + 1;
    int cases = 0;
    while (index < tokens.size() && !token(index).is(";")) {
      if (token(index).is("(")) {
        index = behindGroup(index);
        continue;
      }
      if (token(index).is("CASE")) {
        cases++;
      } else if (token(index).is("END") && cases > 0) {
        cases--;
      } else if (startsNext(start, index)) {
        return index;
      }
      index++;
    }
    return Math.min(index, tokens.size());
  }

  private boolean isRoutine(int start) {
    if (!token(start).is("CREATE") && !token(start).is("ALTER")) {
      return false;
    }
    int index = start + 1;
    while (token(index).is("OR") || token(index).is("ALTER")) {
      index++;
    }
    return ROUTINES.contains(upper(index));
  }

  /** A routine reaches to the end of its batch, or to a semicolon behind its last END. */
  private int endOfRoutine(int start) {
    int depth = 0;
    boolean closed = false;
    for (int index = start; index < tokens.size(); index++) {
      if ((token(index).is("BEGIN") && opensBlock(index)) || token(index).is("CASE")) {
        depth++;
      } else if (token(index).is("END")) {
        depth--;
        closed = true;
      } else if (token(index).is(";") && depth <= 0 && closed) {
        return index;
      }
    }
    return tokens.size();
  }

  private boolean startsNext(int statement, int index) {
    if (token(index).is("END") || token(index).is("ELSE")) {
      return true;
    }
    return isStart(index)
        && (isFirstOfLine(index) || isDefinition(index))
        && !continuesStatement(statement, index);
  }

  private boolean isStart(int index) {
    return token(index).kind() == SqlToken.Kind.WORD && STARTS.contains(upper(index));
  }

  private boolean isRename(int index) {
    return token(index).is("SP_RENAME");
  }

  /** A definition that no other statement can have inside it. */
  private boolean isDefinition(int index) {
    return (token(index).is("ALTER") && token(index + 1).is("TABLE"))
        || (token(index).is("DROP") && Set.of("TABLE", "INDEX").contains(upper(index + 1)));
  }

  private boolean isFirstOfLine(int index) {
    int start = token(index).start();
    int line = Math.max(sql.lastIndexOf('\n', start - 1), sql.lastIndexOf('\r', start - 1));
    return sql.substring(line + 1, start).isBlank();
  }

  /** True for a word that starts statements and yet goes on with the one that is open. */
  private boolean continuesStatement(int statement, int index) {
    SqlToken first = token(statement);
    SqlToken before = token(index - 1);
    String word = upper(index);
    boolean table = first.is("ALTER") && token(statement + 1).is("TABLE");
    return switch (word) {
      case "ALTER" -> token(index + 1).is("COLUMN") || before.is("OR");
      case "DROP" -> !DROPPED.contains(upper(index + 1)) || before.is("FOR");
      case "SET" ->
          table
              || first.is("UPDATE")
              || first.is("MERGE")
              || before.is("DELETE")
              || before.is("UPDATE");
      case "SELECT" -> !isDefinitionVerb(first) || before.is("AS");
      case "INSERT", "UPDATE", "DELETE", "MERGE" ->
          first.is("MERGE")
              || first.is("WITH")
              || before.is("ON")
              || before.is("FOR")
              || before.is("AFTER")
              || before.is(",");
      case "EXEC", "EXECUTE" -> first.is("INSERT") || before.is("AS") || first.is("GRANT");
      case "CREATE" -> first.is("GRANT") || before.is("SCHEMA");
      default -> false;
    };
  }

  private static boolean isDefinitionVerb(SqlToken first) {
    return first.is("CREATE")
        || first.is("ALTER")
        || first.is("DROP")
        || first.is("EXEC")
        || first.is("EXECUTE")
        || first.is("SET")
        || first.is("DECLARE")
        || first.is("PRINT")
        || first.is("TRUNCATE")
        || first.is("USE");
  }

  private int behindGroup(int open) {
    int depth = 0;
    for (int index = open; index < tokens.size(); index++) {
      depth += token(index).is("(") ? 1 : token(index).is(")") ? -1 : 0;
      if (depth == 0) {
        return index + 1;
      }
    }
    return tokens.size();
  }

  private String upper(int index) {
    return token(index).text().toUpperCase(Locale.ROOT);
  }
}
