package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.CopiedTable;
import dev.colonnade.schema.change.CopiedTable.What;
import dev.colonnade.schema.change.QueriedTable;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.CreateTable;
import dev.colonnade.schema.change.TemporaryTable;
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
    boolean global = false;
    while (!cursor.accept("TABLE")) {
      SqlToken token = cursor.next();
      global = global || token.is("GLOBAL");
      temporary = temporary || token.is("TEMPORARY") || token.is("TEMP");
      replace = replace || token.is("REPLACE");
    }
    boolean ifNotExists = cursor.acceptIfNotExists();
    TokenCursor.Name name = cursor.name();
    if ((temporary && !(global && context.statementRules().globalTemporaryKept().value()))
        || name.name().text().startsWith("#")) {
      context.add(new TemporaryTable(name.name(), location));
      cursor.rest();
      return;
    }
    Identifier table = name.written();
    if (replace) {
      context.add(new SchemaChange.DropTable(table, /* ifExists= */ true, location));
    }
    int first = context.size();
    List<Column> columns = new ArrayList<>();
    List<SchemaChange> sources = new ArrayList<>();
    source(cursor, table, location, sources);
    if (cursor.looksAt("(") && !isQuery(cursor)) {
      for (TokenCursor element : cursor.group().splitAtCommas()) {
        element(element, table, columns, sources, location);
      }
    }
    TokenCursor behind = cursor.copy();
    String options = cursor.rest();
    inherited(behind.copy(), table, location, sources);
    query(behind, table, columns, location, sources);
    boolean columnsKnown = sources.isEmpty();
    List<SchemaChange> parts = context.takeFrom(first);
    if (options.matches("(?is).*\\bwithout\\s+rowid\\b.*")) {
      parts = parts.stream().map(part -> stored(part, columns)).toList();
    }
    boolean named = sources.stream().noneMatch(CreateTableReader::givesNames);
    context.add(
        new CreateTable(
            name.name(),
            name.schema(),
            named ? columns : List.of(),
            parts,
            ifNotExists,
            columnsKnown,
            location));
    sources.forEach(context::add);
  }

  /** True where the columns written for the table only name those of the query. */
  private static boolean givesNames(SchemaChange source) {
    return source instanceof QueriedTable query && !query.names().isEmpty();
  }

  /** {@code LIKE other} and {@code PARTITION OF other}, in front of what is in parentheses. */
  private void source(
      TokenCursor cursor, Identifier table, SourceLocation location, List<SchemaChange> sources) {
    if (cursor.accept("LIKE")) {
      sources.add(
          new CopiedTable(
              table,
              cursor.name().written(),
              context.statementRules().likeCopiesIndexes().value()
                  ? What.COLUMNS_AND_NAMED_INDEXES
                  : What.COLUMNS,
              location));
    } else if (cursor.accept("PARTITION", "OF")) {
      sources.add(new CopiedTable(table, cursor.name().written(), What.PARTITION, location));
    }
  }

  private static void inherited(
      TokenCursor cursor, Identifier table, SourceLocation location, List<SchemaChange> sources) {
    while (!cursor.atEnd()) {
      if (cursor.accept("INHERITS")) {
        for (Identifier parent : cursor.tableList()) {
          sources.add(new CopiedTable(table, parent, What.COLUMNS, location));
        }
      } else {
        cursor.next();
      }
    }
  }

  private void query(
      TokenCursor cursor,
      Identifier table,
      List<Column> columns,
      SourceLocation location,
      List<SchemaChange> sources) {
    while (!cursor.atEnd() && !cursor.looksAt("SELECT") && !startsQuery(cursor)) {
      if (cursor.looksAt("AS", "WITH")) {
        cursor.next();
        break;
      }
      if (cursor.looksAt("(")) {
        cursor.group();
      } else {
        cursor.next();
      }
    }
    if (cursor.atEnd()) {
      return;
    }
    boolean untyped =
        !columns.isEmpty()
            && columns.stream().allMatch(column -> column.type().equals(ColumnType.UNKNOWN));
    List<Identifier> names =
        untyped ? columns.stream().map(Column::name).toList() : List.<Identifier>of();
    sources.add(new QueriedTable(table, context.selected(queryText(cursor)), names, location));
  }

  private static boolean startsQuery(TokenCursor cursor) {
    return cursor.looksAt("(") && isQuery(cursor);
  }

  /** The query without what may stand behind it. */
  private static String queryText(TokenCursor cursor) {
    if (cursor.looksAt("(")) {
      return cursor.group().rest();
    }
    return cursor.rest().replaceFirst("(?is)\\s+with\\s+(?:no\\s+)?data\\s*$", "");
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

  private void element(
      TokenCursor element,
      Identifier table,
      List<Column> columns,
      List<SchemaChange> sources,
      SourceLocation location) {
    if (element.looksAt("LIKE") && element.peek(1).isName()) {
      element.next();
      Identifier source = element.name().written();
      sources.add(new CopiedTable(table, source, copied(element), location));
      return;
    }
    if (element.looksAt("PERIOD", "FOR")) {
      return;
    }
    if (!new ConstraintReader(context, table).read(element)) {
      columns.add(new ColumnReader(context).read(element, table).column());
    }
  }

  /**
   * Indexes are copied where that is said; the last word on them counts
   * (https://www.postgresql.org/docs/18/sql-createtable.html).
   */
  private static What copied(TokenCursor options) {
    What what = What.COLUMNS;
    while (!options.atEnd()) {
      boolean including = options.next().is("INCLUDING");
      if (options.acceptAny("ALL", "INDEXES")) {
        what = including ? What.COLUMNS_AND_INDEXES : What.COLUMNS;
      }
    }
    return what;
  }
}
