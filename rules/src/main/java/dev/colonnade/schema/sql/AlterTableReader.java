package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.change.ColumnChange.AddColumn;
import dev.colonnade.schema.change.ColumnChange.DropColumn;
import dev.colonnade.schema.change.ColumnChange.ModifyColumn;
import dev.colonnade.schema.change.ColumnChange.RenameColumn;
import dev.colonnade.schema.change.ColumnChange.SetNullable;
import dev.colonnade.schema.change.ConstraintChange.RenameConstraint;
import dev.colonnade.schema.change.CopiedTable;
import dev.colonnade.schema.change.CopiedTable.What;
import dev.colonnade.schema.change.DropConstraint;
import dev.colonnade.schema.change.DropUniqueKey;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import dev.colonnade.schema.change.IndexChange.RenameIndex;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import dev.colonnade.schema.change.SchemaChange.RenameTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Reads the actions of ALTER TABLE in the syntax of all supported databases. */
final class AlterTableReader {
  private final StatementContext context;
  private final Identifier table;
  private boolean dropsIfExists;

  AlterTableReader(StatementContext context, Identifier table) {
    this.context = context;
    this.table = table;
  }

  /** Reads all actions; those that touch no column, key or index are passed over. */
  void read(TokenCursor cursor) {
    String verb = "";
    dropsIfExists = false;
    for (TokenCursor action : actions(cursor)) {
      String first = action.peek().text().toUpperCase(Locale.ROOT);
      if (!isVerb(action) && verb.equals("ADD") && !action.peek(1).is("=")) {
        addOne(action, context.at(action));
      } else if (!isVerb(action) && verb.equals("DROP") && continuesDrop(action)) {
        drop(action, context.at(action));
      } else {
        verb = first;
        action(action);
      }
    }
  }

  /**
   * The actions. Db2 and Oracle have them without commas between them; there the next one is known
   * by its verb and what stands behind it.
   */
  private static List<TokenCursor> actions(TokenCursor cursor) {
    List<TokenCursor> actions = new ArrayList<>();
    for (TokenCursor part : cursor.splitAtCommas()) {
      actions.addAll(part.splitBefore(AlterTableReader::startsAction));
    }
    return actions;
  }

  private static boolean startsAction(TokenCursor at) {
    boolean verb = at.looksAt("ADD") || at.looksAt("DROP") || at.looksAt("ALTER");
    if (SwitchReader.applies(at)) {
      return true;
    }
    SqlToken object = at.peek(1);
    boolean known =
        object.is("COLUMN")
            || object.is("CONSTRAINT")
            || object.is("UNIQUE")
            || (object.is("PRIMARY") && at.peek(2).is("KEY"))
            || (object.is("FOREIGN") && at.peek(2).is("KEY"));
    boolean group = (verb || at.looksAt("MODIFY")) && object.is("(");
    return (verb && known) || (group && !at.looksAt("ALTER"));
  }

  private static boolean isVerb(TokenCursor action) {
    return action.looksAt("ADD")
        || action.looksAt("DROP")
        || action.looksAt("ALTER")
        || action.looksAt("MODIFY")
        || action.looksAt("CHANGE")
        || action.looksAt("RENAME")
        || SwitchReader.applies(action);
  }

  private static boolean continuesDrop(TokenCursor action) {
    return action.size() == 1 || action.looksAt("COLUMN") || action.looksAt("CONSTRAINT");
  }

  private void action(TokenCursor cursor) {
    SourceLocation location = context.at(cursor);
    if (cursor.accept("ADD")) {
      add(cursor, location);
    } else if (cursor.accept("WITH")) {
      // WITH CHECK ADD CONSTRAINT, WITH NOCHECK ADD CONSTRAINT
      cursor.next();
      if (cursor.accept("ADD")) {
        add(cursor, location);
      }
    } else if (cursor.accept("DROP")) {
      drop(cursor, location);
    } else if (cursor.accept("RENAME")) {
      rename(cursor, location);
    } else if (cursor.accept("ALTER")) {
      alter(cursor, location);
    } else if (cursor.accept("MODIFY")) {
      modify(cursor, location);
    } else if (cursor.accept("CHANGE")) {
      change(cursor, location);
    } else if (SwitchReader.applies(cursor)) {
      new SwitchReader(context, table).read(cursor, location);
    } else if (cursor.accept("ATTACH", "PARTITION")) {
      context.add(new CopiedTable(cursor.name().written(), table, What.PARTITION, location));
    } else if (cursor.accept("DETACH", "PARTITION")) {
      context.add(new CopiedTable(cursor.name().written(), table, What.NOTHING_MORE, location));
    } else if (cursor.accept("SET", "SCHEMA")) {
      Identifier schema = cursor.identifier();
      Identifier moved = Identifier.in(Optional.of(schema), table.unqualified());
      context.add(new RenameTable(table, moved, location));
    } else if (cursor.accept("SET", "UNUSED")) {
      // Gone for every statement (Oracle's SQL Language Reference, ALTER TABLE).
      dropColumns(cursor, location);
    }
  }

  private void add(TokenCursor cursor, SourceLocation location) {
    if (cursor.looksAt("(")) {
      for (TokenCursor part : cursor.group().splitAtCommas()) {
        addOne(part, location);
      }
      return;
    }
    addOne(cursor, location);
  }

  private void addOne(TokenCursor cursor, SourceLocation location) {
    if (!ConstraintReader.isTypedColumn(cursor) && isOtherAddition(cursor)) {
      return;
    }
    boolean column = cursor.accept("COLUMN");
    if (!column) {
      if (new ConstraintReader(context, table).read(cursor)) {
        return;
      }
      if (cursor.looksAt("DEFAULT") || cursor.looksAt("GENERATED")) {
        return;
      }
    }
    boolean ifNotExists = cursor.acceptIfNotExists();
    if (cursor.looksAt("(")) {
      for (TokenCursor part : cursor.group().splitAtCommas()) {
        addColumn(part, ifNotExists, location);
      }
    } else {
      addColumn(cursor, ifNotExists, location);
    }
  }

  /** What can be added to a table without being a column, key or index. */
  private static boolean isOtherAddition(TokenCursor cursor) {
    return cursor.looksAt("PARTITION")
        || cursor.looksAt("SUPPLEMENTAL", "LOG")
        || cursor.looksAt("RESTRICT", "ON")
        || cursor.looksAt("PERIOD", "FOR")
        || cursor.looksAt("SYSTEM", "VERSIONING")
        || cursor.looksAt("DISABLE", "KEYS")
        || cursor.looksAt("ENABLE", "KEYS")
        || cursor.looksAt("ORDER", "BY")
        || cursor.looksAt("CONVERT", "TO")
        || (cursor.looksAt("FORCE") && cursor.size() == 1)
        || (cursor.looksAt("COMMENT") && cursor.peek(1).kind() == SqlToken.Kind.STRING)
        || cursor.peek(1).is("=");
  }

  private void addColumn(TokenCursor cursor, boolean ifNotExists, SourceLocation location) {
    int first = context.size();
    Column column = new ColumnReader(context).read(cursor, table).column();
    List<SchemaChange> constraints = context.takeFrom(first);
    context.add(new AddColumn(table, column, ifNotExists, location));
    constraints.forEach(context::add);
  }

  private void drop(TokenCursor cursor, SourceLocation location) {
    if (cursor.accept("PRIMARY", "KEY")) {
      dropConstraint(cursor, ConstraintKind.PRIMARY_KEY, Optional.empty(), false, location);
    } else if (cursor.accept("FOREIGN", "KEY")) {
      boolean ifExists = cursor.acceptIfExists();
      Optional<Identifier> name = Optional.of(cursor.identifier());
      dropConstraint(cursor, ConstraintKind.FOREIGN_KEY, name, ifExists, location);
    } else if (cursor.accept("CONSTRAINT")) {
      boolean ifExists = cursor.acceptIfExists();
      Optional<Identifier> name = Optional.of(cursor.name().name());
      dropConstraint(cursor, ConstraintKind.ANY, name, ifExists, location);
    } else if (cursor.accept("INDEX") || (cursor.looksAt("KEY") && cursor.peek(1).isName())) {
      cursor.accept("KEY");
      boolean ifExists = cursor.acceptIfExists();
      context.add(new DropIndex(Optional.of(table), cursor.name().name(), ifExists, location));
    } else if (cursor.accept("UNIQUE")) {
      if (cursor.looksAt("(")) {
        context.add(new DropUniqueKey(table, cursor.nameList(), location));
      } else {
        Optional<Identifier> name = Optional.of(cursor.identifier());
        dropConstraint(cursor, ConstraintKind.UNIQUE, name, false, location);
      }
    } else if (cursor.looksAt("CHECK")
        || cursor.looksAt("PARTITION")
        || cursor.looksAt("EXPRESSION")
        || cursor.looksAt("SUPPLEMENTAL")) {
      cursor.rest();
    } else {
      dropColumns(cursor, location);
    }
  }

  /** One IF EXISTS counts for all columns behind it. */
  private void dropColumns(TokenCursor cursor, SourceLocation location) {
    boolean anew = cursor.accept("COLUMN");
    boolean ifExists = cursor.acceptIfExists() || (!anew && dropsIfExists);
    dropsIfExists = ifExists;
    List<Identifier> columns =
        cursor.looksAt("(") ? cursor.nameList() : List.of(cursor.identifier());
    for (Identifier column : columns) {
      context.add(new DropColumn(table, column, ifExists, /* dropsIndexes= */ false, location));
    }
  }

  /** Reads on behind the constraint: Oracle can keep its index, many drop what refers to it. */
  private void dropConstraint(
      TokenCursor cursor,
      ConstraintKind kind,
      Optional<Identifier> name,
      boolean ifExists,
      SourceLocation location) {
    boolean cascade = cursor.accept("CASCADE");
    boolean keepsIndex = cursor.accept("KEEP", "INDEX");
    context.add(new DropConstraint(table, kind, name, ifExists, cascade, keepsIndex, location));
  }

  private void rename(TokenCursor cursor, SourceLocation location) {
    if (cursor.accept("TO") || cursor.accept("AS")) {
      context.add(new RenameTable(table, cursor.name().written(), location));
    } else if (cursor.accept("CONSTRAINT")) {
      Identifier from = cursor.identifier();
      cursor.expect("TO");
      context.add(new RenameConstraint(table, from, cursor.identifier(), location));
    } else if (cursor.looksAt("INDEX") || cursor.looksAt("KEY")) {
      cursor.next();
      Identifier from = cursor.identifier();
      cursor.expect("TO");
      context.add(
          new RenameIndex(
              Optional.of(table), from, cursor.identifier(), /* ifExists= */ false, location));
    } else {
      cursor.accept("COLUMN");
      cursor.acceptIfExists();
      Identifier from = cursor.identifier();
      if (cursor.acceptAny("TO", "AS")) {
        context.add(new RenameColumn(table, from, cursor.identifier(), location));
      } else {
        context.add(new RenameTable(table, from, location));
      }
    }
  }

  private void alter(TokenCursor cursor, SourceLocation location) {
    if (cursor.looksAt("CONSTRAINT") || cursor.looksAt("INDEX") || cursor.looksAt("CHECK")) {
      cursor.rest();
      return;
    }
    cursor.accept("COLUMN");
    cursor.acceptIfExists();
    Identifier column = cursor.identifier();
    if (cursor.accept("SET", "NOT", "NULL") || cursor.accept("NOT", "NULL")) {
      context.add(new SetNullable(table, column, /* nullable= */ false, location));
    } else if (cursor.accept("DROP", "NOT", "NULL")
        || cursor.accept("SET", "NULL")
        || cursor.accept("NULL")) {
      context.add(new SetNullable(table, column, /* nullable= */ true, location));
    } else if (cursor.accept("RENAME", "TO")) {
      context.add(new RenameColumn(table, column, cursor.identifier(), location));
    } else if (cursor.accept("SET", "DATA", "TYPE") || cursor.accept("TYPE")) {
      type(cursor, column, location);
    } else if (cursor.looksAt("SET")
        || cursor.looksAt("DROP")
        || cursor.looksAt("ADD")
        || cursor.looksAt("RESTART")
        || cursor.looksAt("RESET")
        || cursor.looksAt("SELECTIVITY")
        || cursor.looksAt("DEFAULT")) {
      cursor.rest();
    } else {
      redefine(column, column, cursor, /* anew= */ false, location);
    }
  }

  private void type(TokenCursor cursor, Identifier column, SourceLocation location) {
    ColumnType type = TypeFamilies.type(ColumnReader.typeText(cursor));
    cursor.rest();
    context.add(new ModifyColumn(table, column, type, Optional.empty(), location));
  }

  private void modify(TokenCursor cursor, SourceLocation location) {
    if (SwitchReader.isConstraint(cursor)) {
      new SwitchReader(context, table).modify(cursor, location);
      return;
    }
    if (cursor.looksAt("PARTITION") || cursor.looksAt("DEFAULT")) {
      return;
    }
    cursor.accept("COLUMN");
    cursor.acceptIfExists();
    List<TokenCursor> parts =
        cursor.looksAt("(") ? cursor.group().splitAtCommas() : List.of(cursor);
    for (TokenCursor part : parts) {
      Identifier column = part.identifier();
      redefine(column, column, part, context.rules().modifyRedefines().value(), location);
    }
  }

  private void change(TokenCursor cursor, SourceLocation location) {
    cursor.accept("COLUMN");
    cursor.acceptIfExists();
    Identifier from = cursor.identifier();
    Identifier to = cursor.identifier();
    redefine(from, to, cursor, /* anew= */ true, location);
  }

  private void redefine(
      Identifier from, Identifier to, TokenCursor cursor, boolean anew, SourceLocation location) {
    if (!from.text().equals(to.text())) {
      context.add(new RenameColumn(table, from, to, location));
    }
    int first = context.size();
    ColumnReader.Definition definition = new ColumnReader(context).read(to, cursor, table);
    List<SchemaChange> constraints = context.takeFrom(first);
    context.add(
        new ModifyColumn(
            table,
            to,
            definition.column().type(),
            anew || definition.nullabilityWritten()
                ? Optional.of(definition.column().nullable())
                : Optional.empty(),
            location));
    constraints.forEach(context::add);
  }
}
