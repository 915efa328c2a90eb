package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.RowsChanged;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.RowsLoaded;

/** Reads what INSERT, DELETE and TRUNCATE do to the number of rows of a table. */
final class RowStatements {
  private RowStatements() {}

  static boolean applies(TokenCursor cursor) {
    return cursor.looksAt("INSERT") || cursor.looksAt("DELETE") || cursor.looksAt("TRUNCATE");
  }

  /** Reads a whole statement; one that is not understood makes the number unknown. */
  static void read(StatementContext context, TokenCursor cursor, SourceLocation location) {
    boolean insert = cursor.accept("INSERT");
    boolean truncate = cursor.accept("TRUNCATE");
    cursor.accept("DELETE");
    cursor.acceptAny("IGNORE", "INTO", "FROM", "TABLE");
    cursor.acceptAny("INTO", "ONLY");
    if (!cursor.peek().isName()) {
      return;
    }
    Identifier table = cursor.name().name();
    if (insert) {
      inserted(context, cursor, table, location);
    } else {
      boolean all = truncate || cursor.atEnd();
      context.add(new RowsChanged(table, all, location));
    }
  }

  /** True for a change of the number of rows alone. */
  static boolean isAboutRows(SchemaChange change) {
    return change instanceof RowsLoaded || change instanceof RowsChanged;
  }

  /** The same change where nobody knows whether and how often it happens. */
  static SchemaChange unknown(SchemaChange change) {
    Identifier table =
        change instanceof RowsLoaded loaded ? loaded.table() : ((RowsChanged) change).table();
    return new RowsChanged(table, /* emptied= */ false, change.location());
  }

  private static void inserted(
      StatementContext context, TokenCursor cursor, Identifier table, SourceLocation location) {
    cursor.skipGroup();
    if (!cursor.acceptAny("VALUES", "VALUE") || !cursor.looksAt("(")) {
      context.add(new RowsChanged(table, /* emptied= */ false, location));
      return;
    }
    long rows = 0;
    do {
      cursor.group();
      rows++;
    } while (cursor.accept(",") && cursor.looksAt("("));
    context.add(new RowsLoaded(table, rows, location));
  }
}
