package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.change.ColumnChange;
import dev.colonnade.schema.change.CopiedTable;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import dev.colonnade.schema.change.IndexChange.RenameIndex;
import dev.colonnade.schema.change.QueriedTable;
import dev.colonnade.schema.change.ReverseIndex;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.CreateTable;
import dev.colonnade.schema.change.SchemaChange.DropTable;
import dev.colonnade.schema.change.SchemaChange.RenameTable;
import dev.colonnade.schema.change.TableAlone;
import dev.colonnade.schema.change.ViewChange.CreateView;
import dev.colonnade.schema.change.ViewChange.DropView;
import dev.colonnade.schema.change.ViewChange.RenameView;
import dev.colonnade.schema.change.WhereTableExists;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Reads single statements as effects on the schema, in the syntax of all supported databases. */
final class StatementReader {
  private static final Set<String> VERBS =
      Set.of("CREATE", "ALTER", "DROP", "RENAME", "EXEC", "EXECUTE");

  private StatementReader() {}

  /** True for the first word of a statement of SQL. */
  static boolean startsStatement(SqlToken first) {
    String verb = first.text().toUpperCase(Locale.ROOT);
    return VERBS.contains(verb) || StatementWords.WITHOUT_EFFECT.contains(verb);
  }

  /**
   * Reads one statement.
   *
   * @throws UnreadableSqlException where it could touch tables or indexes and is not understood
   */
  static void read(StatementContext context, TokenCursor cursor, SourceLocation location) {
    String verb = cursor.peek().text().toUpperCase(Locale.ROOT);
    if (cursor.accept("CREATE")) {
      create(context, cursor, location);
    } else if (cursor.accept("ALTER")) {
      alter(context, cursor, location);
    } else if (cursor.accept("DROP")) {
      drop(context, cursor, location);
    } else if (cursor.accept("RENAME")) {
      rename(context, cursor, location);
    } else if (cursor.looksAt("EXEC")
        || cursor.looksAt("EXECUTE")
        || cursor.peek().text().toLowerCase(Locale.ROOT).equals("sp_rename")) {
      execute(context, cursor, location);
    } else if (cursor.looksAt("SELECT")) {
      select(context, cursor, location);
    } else if (RowStatements.applies(cursor)) {
      RowStatements.read(context, cursor, location);
    } else if (!StatementWords.WITHOUT_EFFECT.contains(verb)) {
      throw cursor.unexpected("not a statement that is understood");
    }
  }

  private static void create(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    if (CreateIndexReader.applies(cursor)) {
      new CreateIndexReader(context).read(cursor, location);
    } else if (CreateTableReader.applies(cursor)) {
      new CreateTableReader(context).read(cursor, location);
    } else if (cursor.accept("PRIMARY", "KEY")) {
      // H2's other way to add one.
      cursor.accept("HASH");
      cursor.expect("ON");
      Identifier table = cursor.name().written();
      new ConstraintReader(context, table).primaryKey(cursor, Optional.empty(), location);
    } else if (leadsTo(cursor, "VIEW")) {
      createView(context, cursor, location);
    } else if (!SequenceReader.create(context, cursor, location) && !isOtherObject(cursor)) {
      throw cursor.unexpected("what is created is not understood");
    }
  }

  private static boolean leadsTo(TokenCursor cursor, String kind) {
    for (int i = 0; i < 12 && cursor.peek(i).kind() != SqlToken.Kind.STRING; i++) {
      if (cursor.peek(i).is(kind)) {
        return true;
      }
      if (cursor.peek(i).is("(")
          || (StatementWords.OTHER_OBJECTS.contains(upper(cursor, i)) && !isPrefix(cursor, i))) {
        return false;
      }
    }
    return false;
  }

  private static boolean isPrefix(TokenCursor cursor, int i) {
    return Set.of("DEFINER", "ALGORITHM", "EDITIONABLE", "NONEDITIONABLE", "USER", "SECURITY")
        .contains(upper(cursor, i));
  }

  private static String upper(TokenCursor cursor, int ahead) {
    return cursor.peek(ahead).text().toUpperCase(Locale.ROOT);
  }

  private static boolean isOtherObject(TokenCursor cursor) {
    for (int i = 0; i < 6; i++) {
      if (StatementWords.OTHER_OBJECTS.contains(upper(cursor, i))) {
        return true;
      }
    }
    return false;
  }

  private static void createView(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    boolean materialized = false;
    while (!cursor.accept("VIEW")) {
      materialized |= cursor.next().is("MATERIALIZED");
    }
    cursor.acceptIfNotExists();
    Identifier name = cursor.name().written();
    List<Identifier> names = cursor.looksAt("(") ? cursor.nameList() : List.<Identifier>of();
    while (!cursor.atEnd() && !cursor.accept("AS")) {
      cursor.next();
    }
    Optional<String> definition = Optional.of(cursor.rest()).filter(text -> !text.isBlank());
    context.add(new CreateView(name, definition, materialized, location));
    if (materialized) {
      String query =
          definition.orElse("").replaceFirst("(?is)\\s+with\\s+(?:no\\s+)?data\\s*$", "");
      context.add(new QueriedTable(name, context.selected(query), names, location));
    }
  }

  /**
   * {@code SELECT ... INTO table}, which makes a table in SQL Server and PostgreSQL
   * (https://www.postgresql.org/docs/18/sql-selectinto.html).
   */
  private static void select(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    TokenCursor at = cursor.copy();
    String whole = cursor.copy().rest();
    int start = cursor.offset();
    while (!at.atEnd() && !at.looksAt("INTO")) {
      if (at.looksAt("(")) {
        at.group();
      } else if (at.next().is("FROM")) {
        return;
      }
    }
    if (at.atEnd()) {
      return;
    }
    int from = at.offset() - start;
    at.next();
    boolean temporary = at.acceptAny("TEMPORARY", "TEMP");
    at.accept("UNLOGGED");
    at.accept("TABLE");
    if (temporary || !at.peek().isName() || at.peek().text().matches("[#@].*")) {
      return;
    }
    TokenCursor.Name name = at.name();
    if (at.looksAt(",") || !at.looksAt("FROM")) {
      return;
    }
    String query = whole.substring(0, from) + whole.substring(at.offset() - start);
    context.add(
        new CreateTable(
            name.name(),
            name.schema(),
            List.of(),
            List.of(),
            /* ifNotExists= */ false,
            /* columnsKnown= */ false,
            location));
    context.add(new QueriedTable(name.written(), context.selected(query), List.of(), location));
  }

  private static void alter(StatementContext context, TokenCursor cursor, SourceLocation location) {
    if (!cursor.looksAt("TABLE") && cursor.peek(1).is("TABLE")) {
      cursor.acceptAny("IGNORE", "ONLINE", "OFFLINE");
    }
    if (cursor.accept("TABLE")) {
      boolean ifExists = cursor.acceptIfExists();
      boolean alone = cursor.accept("ONLY");
      Identifier table = cursor.name().written();
      int first = context.size();
      new AlterTableReader(context, table).read(cursor);
      List<SchemaChange> changes = context.takeFrom(first);
      if (alone) {
        changes = changes.stream().map(StatementReader::alone).toList();
      }
      if (ifExists && !changes.isEmpty()) {
        context.add(new WhereTableExists(table, changes, location));
      } else {
        changes.forEach(context::add);
      }
    } else if (cursor.accept("INDEX")) {
      alterIndex(context, cursor, location);
    } else if (cursor.looksAt("MATERIALIZED", "VIEW") || cursor.looksAt("VIEW")) {
      cursor.accept("MATERIALIZED");
      cursor.expect("VIEW");
      cursor.acceptIfExists();
      Identifier view = cursor.name().written();
      if (cursor.accept("RENAME", "TO")) {
        context.add(new RenameView(view, cursor.name().name(), location));
      }
    } else if (!SequenceReader.alter(context, cursor, location) && !isOtherObject(cursor)) {
      throw cursor.unexpected("what is altered is not understood");
    }
  }

  /** Partitions are attached by this statement, too. */
  private static SchemaChange alone(SchemaChange change) {
    return change instanceof CopiedTable ? change : new TableAlone(change);
  }

  private static void alterIndex(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    boolean ifExists = cursor.acceptIfExists();
    if (cursor.accept("ALL")) {
      return;
    }
    TokenCursor.Name index = cursor.name();
    Identifier from = index.name();
    if (cursor.accept("RENAME", "TO")) {
      context.add(new RenameIndex(index.schema(), from, cursor.name().name(), ifExists, location));
    } else if (cursor.accept("REBUILD", "REVERSE")) {
      context.add(new ReverseIndex(index.schema(), from, /* reverse= */ true, location));
    } else if (cursor.accept("REBUILD", "NOREVERSE")) {
      context.add(new ReverseIndex(index.schema(), from, /* reverse= */ false, location));
    } else if (cursor.peek(cursor.size() - 1).is("DISABLE") || cursor.looksAt("UNUSABLE")) {
      context.note(
          location, "alter index: " + from + " is switched off" + CreateIndexReader.READ_ON);
    } else if (cursor.looksAt("INVISIBLE")) {
      context.note(
          location,
          "alter index: " + from + " is hidden from the planner" + CreateIndexReader.READ_ON);
    }
  }

  private static void drop(StatementContext context, TokenCursor cursor, SourceLocation location) {
    if (cursor.looksAt("TEMPORARY", "TABLE")) {
      return;
    }
    if (cursor.accept("TABLE")) {
      boolean ifExists = cursor.acceptIfExists();
      for (TokenCursor part : cursor.splitAtCommas()) {
        Identifier table = part.name().written();
        context.add(new DropTable(table, ifExists || part.acceptIfExists(), location));
      }
    } else if (cursor.accept("INDEX")) {
      dropIndex(context, cursor, location);
    } else if (cursor.looksAt("VIEW") || cursor.looksAt("MATERIALIZED", "VIEW")) {
      cursor.accept("MATERIALIZED");
      cursor.expect("VIEW");
      boolean ifExists = cursor.acceptIfExists();
      for (TokenCursor part : cursor.splitAtCommas()) {
        context.add(new DropView(part.name().written(), ifExists, location));
      }
    } else if (!SequenceReader.drop(context, cursor, location) && !isOtherObject(cursor)) {
      throw cursor.unexpected("what is dropped is not understood");
    }
  }

  private static void dropIndex(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    cursor.accept("CONCURRENTLY");
    boolean ifExists = cursor.acceptIfExists();
    for (TokenCursor part : cursor.splitAtCommas()) {
      TokenCursor.Name name = part.name();
      // SQL Server's old form is table.index; elsewhere the first part is the schema.
      Optional<Identifier> table =
          part.accept("ON") ? Optional.of(part.name().written()) : name.schema();
      context.add(new DropIndex(table, name.name(), ifExists || part.acceptIfExists(), location));
    }
  }

  private static void rename(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    if (cursor.accept("INDEX")) {
      Identifier from = cursor.name().name();
      cursor.expect("TO");
      context.add(
          new RenameIndex(
              Optional.empty(), from, cursor.name().name(), /* ifExists= */ false, location));
      return;
    }
    if (cursor.accept("COLUMN")) {
      TokenCursor.Name from = cursor.name();
      cursor.expect("TO");
      context.add(
          new ColumnChange.RenameColumn(
              from.schema().orElseThrow(() -> cursor.unexpected("expected a table")),
              from.name(),
              cursor.identifier(),
              location));
      return;
    }
    cursor.accept("TABLE");
    for (TokenCursor part : cursor.splitAtCommas()) {
      Identifier from = part.name().written();
      part.expect("TO");
      context.add(new RenameTable(from, part.name().written(), location));
    }
  }

  private static void execute(
      StatementContext context, TokenCursor cursor, SourceLocation location) {
    cursor.acceptAny("EXEC", "EXECUTE");
    if (cursor.peek().isName() && cursor.name().name().folded().equals("sp_rename")) {
      RenameProcedure.read(context, cursor, location);
    }
  }
}
