package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.AddPrimaryKey;
import dev.colonnade.schema.change.SchemaChange.CreateTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads CREATE TABLE in the syntax of all supported databases. */
final class CreateTableReader {
  private final StatementContext context;

  CreateTableReader(StatementContext context) {
    this.context = context;
  }

  /** True when the words behind CREATE lead to TABLE. */
  static boolean applies(TokenCursor behindCreate) {
    TokenCursor cursor = behindCreate.copy();
    for (int i = 0; i < 4 && !cursor.atEnd(); i++) {
      if (cursor.accept("TABLE")) {
        return true;
      }
      if (!cursor.acceptAny(
          "OR",
          "REPLACE",
          "GLOBAL",
          "LOCAL",
          "TEMPORARY",
          "TEMP",
          "UNLOGGED",
          "CACHED",
          "MEMORY",
          "COLUMN",
          "ROW")) {
        return false;
      }
    }
    return false;
  }

  /** Reads on behind CREATE. */
  void read(TokenCursor cursor, SourceLocation location) {
    boolean temporary = false;
    boolean replace = false;
    while (!cursor.accept("TABLE")) {
      SqlToken token = cursor.next();
      temporary = temporary || token.is("TEMPORARY") || token.is("TEMP");
      replace = replace || token.is("REPLACE");
    }
    boolean ifNotExists = cursor.acceptIfNotExists();
    TokenCursor.Name name = cursor.name();
    if (temporary || name.name().text().startsWith("#")) {
      cursor.rest();
      return;
    }
    if (replace) {
      context.add(new SchemaChange.DropTable(name.name(), /* ifExists= */ true, location));
    }
    int first = context.size();
    List<Column> columns = new ArrayList<>();
    boolean columnsKnown = true;
    if (cursor.looksAt("(") && !isQuery(cursor)) {
      for (TokenCursor element : cursor.group().splitAtCommas()) {
        columnsKnown &= element(element, name.name(), columns);
      }
    } else if (cursor.looksAt("LIKE")) {
      columnsKnown = false;
    }
    String options = cursor.rest();
    if ((options.matches("(?is)(.*\\s)?(as|select)\\b.*") && columns.isEmpty())
        || options.matches("(?is)partition\\s+of\\b.*")
        || options.matches("(?is).*\\binherits\\b.*")) {
      columnsKnown = false;
    }
    if (!columnsKnown) {
      context.note(location, "create table: the columns of " + name.name() + " are not known here");
    }
    List<SchemaChange> parts = context.takeFrom(first);
    if (options.matches("(?is).*\\bwithout\\s+rowid\\b.*")) {
      parts = parts.stream().map(part -> stored(part, columns)).toList();
    }
    context.add(
        new CreateTable(
            name.name(), name.schema(), columns, parts, ifNotExists, columnsKnown, location));
  }

  /**
   * The primary key of a table that is stored in its order; its columns cannot hold NULL
   * (https://www.sqlite.org/withoutrowid.html).
   */
  private static SchemaChange stored(SchemaChange part, List<Column> columns) {
    if (!(part instanceof AddPrimaryKey key)) {
      return part;
    }
    for (KeyColumn column : key.keyColumns()) {
      columns.replaceAll(
          old ->
              column.column().filter(old.name()::equals).isPresent()
                  ? new Column(old.name(), old.type(), /* nullable= */ false, old.collation())
                  : old);
    }
    return new AddPrimaryKey(
        key.table(),
        key.name(),
        key.keyColumns(),
        key.includedColumns(),
        key.usingIndex(),
        Optional.of(true),
        key.location());
  }

  private static boolean isQuery(TokenCursor cursor) {
    return cursor.peek(1).is("SELECT") || cursor.peek(1).is("WITH");
  }

  /** Reads one element in the parentheses; false when it brings columns that are not known. */
  private boolean element(TokenCursor element, Identifier table, List<Column> columns) {
    if (element.looksAt("LIKE") && element.peek(1).isName()) {
      return false;
    }
    if (element.looksAt("PERIOD", "FOR")) {
      return true;
    }
    if (!new ConstraintReader(context, table).read(element)) {
      columns.add(new ColumnReader(context).read(element, table).column());
    }
    return true;
  }
}
