package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.RowsChanged;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.RowsLoaded;
import java.util.Optional;
import java.util.Set;

/** Reads what INSERT, DELETE and TRUNCATE do to the number of rows of a table. */
final class RowStatements {
  private static final Set<String> ELSEWHERE =
      Set.of("MERGE", "REPLACE", "COPY", "LOAD", "CALL", "WITH", "IMPORT", "BULK", "UPSERT");

  private RowStatements() {}

  static boolean applies(TokenCursor cursor) {
    return cursor.looksAt("INSERT")
        || cursor.looksAt("DELETE")
        || cursor.looksAt("TRUNCATE")
        || isOfAnyTable(cursor);
  }

  /** Statements that may put rows into tables that are not looked for here. */
  private static boolean isOfAnyTable(TokenCursor cursor) {
    return ELSEWHERE.stream().anyMatch(cursor::looksAt);
  }

  /** Reads a whole statement; one that is not understood makes the number unknown. */
  static void read(StatementContext context, TokenCursor cursor, SourceLocation location) {
    if (isOfAnyTable(cursor)) {
      context.add(anywhere(location));
      return;
    }
    boolean insert = cursor.accept("INSERT");
    boolean truncate = cursor.accept("TRUNCATE");
    cursor.accept("DELETE");
    if (cursor.accept("OR")) {
      cursor.next();
    }
    cursor.acceptAny("IGNORE", "INTO", "FROM", "TABLE");
    cursor.acceptAny("INTO", "ONLY");
    if (!cursor.peek().isName()) {
      return;
    }
    Identifier table = cursor.name().written();
    if (insert) {
      inserted(context, cursor, table, location);
    } else {
      boolean all = truncate || cursor.atEnd();
      context.add(new RowsChanged(Optional.of(table), all, location));
    }
  }

  /** True for a change of the number of rows alone. */
  static boolean isAboutRows(SchemaChange change) {
    return change instanceof RowsLoaded || change instanceof RowsChanged;
  }

  /** The same change where nobody knows whether and how often it happens. */
  static SchemaChange unknown(SchemaChange change) {
    Optional<Identifier> table =
        change instanceof RowsLoaded loaded
            ? Optional.of(loaded.table())
            : ((RowsChanged) change).table();
    return new RowsChanged(table, /* emptied= */ false, change.location());
  }

  /** Rows may have come to any table. */
  static RowsChanged anywhere(SourceLocation location) {
    return new RowsChanged(Optional.empty(), /* emptied= */ false, location);
  }

  private static void inserted(
      StatementContext context, TokenCursor cursor, Identifier table, SourceLocation location) {
    cursor.skipGroup();
    if (!cursor.acceptAny("VALUES", "VALUE") || !cursor.looksAt("(")) {
      context.add(new RowsChanged(Optional.of(table), /* emptied= */ false, location));
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
