package dev.colonnade.schema.sql;

import dev.colonnade.dialect.StatementRules;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.ColumnChange.RenameColumn;
import dev.colonnade.schema.change.IndexChange.RenameIndex;
import dev.colonnade.schema.change.SchemaChange.RenameTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reads the call of SQL Server's procedure that renames tables, columns and indexes
 * (https://learn.microsoft.com/sql/relational-databases/system-stored-procedures/sp-rename-transact-sql).
 */
final class RenameProcedure {
  private RenameProcedure() {}

  /** Reads on behind the name of the procedure. */
  static void read(StatementContext context, TokenCursor cursor, SourceLocation location) {
    List<String> arguments = new ArrayList<>();
    while (!cursor.atEnd()) {
      SqlToken token = cursor.next();
      if (token.kind() == SqlToken.Kind.STRING) {
        String text = token.text();
        arguments.add(text.substring(1, text.length() - 1).replace("''", "'"));
      } else if (token.kind() == SqlToken.Kind.QUOTED) {
        arguments.add(token.text());
      }
    }
    if (arguments.size() < 2) {
      context.note(location, "sp_rename: its arguments are not understood");
      return;
    }
    List<Identifier> path = path(arguments.get(0), context.statementRules());
    Identifier last = path.get(path.size() - 1);
    Identifier to = Identifier.of(arguments.get(1));
    String kind = arguments.size() > 2 ? arguments.get(2).toUpperCase(Locale.ROOT) : "OBJECT";
    Optional<Identifier> table =
        path.size() > 1 ? Optional.of(path.get(path.size() - 2)) : Optional.empty();
    if (kind.equals("COLUMN") && table.isPresent()) {
      context.add(new RenameColumn(table.get(), last, to, location));
    } else if (kind.equals("INDEX")) {
      context.add(new RenameIndex(table, last, to, /* ifExists= */ false, location));
    } else {
      context.add(new RenameTable(last, to, location));
    }
  }

  private static List<Identifier> path(String text, StatementRules rules) {
    List<SqlToken> tokens = SqlTokenizer.tokens(text, rules);
    List<Identifier> path = new ArrayList<>();
    for (SqlToken token : tokens) {
      if (token.isName()) {
        path.add(new Identifier(token.text()));
      }
    }
    return path.isEmpty() ? List.of(Identifier.of(text)) : path;
  }
}
