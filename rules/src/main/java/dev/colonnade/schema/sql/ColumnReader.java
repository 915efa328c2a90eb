package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import dev.colonnade.schema.change.SwitchConstraint;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Reads a column definition: name, type, and the constraints written behind it. */
final class ColumnReader {
  /** Words that end a type or a default value. */
  private static final Set<String> OPTION_WORDS =
      Set.of(
          "NOT",
          "NULL",
          "DEFAULT",
          "PRIMARY",
          "UNIQUE",
          "CONSTRAINT",
          "REFERENCES",
          "CHECK",
          "COMMENT",
          "COLLATE",
          "GENERATED",
          "AUTO_INCREMENT",
          "AUTOINCREMENT",
          "IDENTITY",
          "KEY",
          "ON",
          "AS",
          "ENABLE",
          "DISABLE",
          "VISIBLE",
          "INVISIBLE",
          "CHARSET",
          "STORAGE",
          "COMPRESSION",
          "FIRST",
          "AFTER",
          "BEFORE",
          "VIRTUAL",
          "STORED",
          "PERSISTED",
          "SPARSE",
          "ROWGUIDCOL",
          "DEFERRABLE",
          "INITIALLY",
          "MATCH",
          "SELECTIVITY",
          "ENCODE",
          "WITH",
          "USING",
          "INLINE",
          "LOGGED",
          "COMPACT",
          "IMPLICITLY",
          "HIDDEN",
          "FOR");

  private final StatementContext context;

  ColumnReader(StatementContext context) {
    this.context = context;
  }

  /**
   * A column definition.
   *
   * @param nullabilityWritten true when NULL or NOT NULL was written
   */
  record Definition(Column column, boolean nullabilityWritten) {}

  /** Reads the column; its constraints go to the context, as changes of the table. */
  Definition read(TokenCursor cursor, Identifier table) {
    return read(cursor.identifier(), cursor, table);
  }

  Definition read(Identifier name, TokenCursor cursor, Identifier table) {
    String declared = typeText(cursor);
    ColumnType type = declared.isEmpty() ? ColumnType.UNKNOWN : TypeFamilies.type(declared);
    Options options = new Options(name, table);
    if (declared.toLowerCase(Locale.ROOT).matches("(small|big)?serial.*|identity.*")) {
      options.nullable = false;
    }
    if (declared.equalsIgnoreCase("serial") && context.statementRules().serialIsUnique().value()) {
      options.addUnique(/* clustered= */ false, context.at(cursor));
    }
    options.identity = declared.equalsIgnoreCase("identity");
    while (!cursor.atEnd()) {
      options.read(cursor);
    }
    if (options.identity && !options.primary && context.statementRules().identityIsKey().value()) {
      options.primaryKey(cursor, context.at(cursor));
    }
    return new Definition(
        new Column(name, type, options.nullable, options.collation), options.nullabilityWritten);
  }

  /** Passes the words of a type. */
  static String typeText(TokenCursor cursor) {
    int start = cursor.offset();
    boolean any = false;
    while (!cursor.atEnd() && !endsType(cursor, any)) {
      if (cursor.looksAt("(")) {
        cursor.group();
      } else {
        cursor.next();
      }
      any = true;
    }
    return any ? cursor.textFrom(start) : "";
  }

  private static boolean endsType(TokenCursor cursor, boolean any) {
    if (cursor.looksAt("CHARACTER", "SET")) {
      return true;
    }
    if (cursor.looksAt("WITH", "TIME")
        || cursor.looksAt("WITH", "LOCAL")
        || cursor.looksAt("FOR", "BIT")) {
      return false;
    }
    boolean identityType = !any && cursor.looksAt("IDENTITY");
    return !identityType && isOption(cursor.peek());
  }

  private static boolean isOption(SqlToken token) {
    return token.kind() == SqlToken.Kind.WORD
        && OPTION_WORDS.contains(token.text().toUpperCase(Locale.ROOT));
  }

  private final class Options {
    private final Identifier column;
    private final Identifier table;
    private boolean nullable = true;
    private boolean identity;
    private boolean primary;
    private boolean nullabilityWritten;
    private Optional<String> collation = Optional.empty();
    private Optional<Identifier> constraint = Optional.empty();
    private Optional<SwitchConstraint> off = Optional.empty();

    Options(Identifier column, Identifier table) {
      this.column = column;
      this.table = table;
    }

    void read(TokenCursor cursor) {
      SourceLocation location = context.at(cursor);
      if (cursor.accept("CONSTRAINT")) {
        constraint = Optional.of(cursor.identifier());
        off = Optional.empty();
      } else if (cursor.accept("DISABLE")) {
        off.ifPresent(context::add);
      } else if (cursor.accept("NOT", "NULL")) {
        nullable = cursor.looksAt("DISABLE");
        nullabilityWritten = true;
        constraint = Optional.empty();
        off = Optional.empty();
      } else if (cursor.accept("NULL")) {
        nullable = true;
        nullabilityWritten = true;
        constraint = Optional.empty();
      } else if (cursor.accept("PRIMARY", "KEY") || cursor.accept("KEY")) {
        primaryKey(cursor, location);
      } else if (cursor.accept("UNIQUE")) {
        unique(cursor, location);
      } else if (cursor.accept("REFERENCES")) {
        SchemaChange key =
            ConstraintReader.references(cursor, table, constraint, List.of(column), location);
        if (context.statementRules().columnForeignKeys().value()) {
          context.add(key);
        }
        takeName(ConstraintKind.FOREIGN_KEY, location);
      } else if (cursor.accept("DEFAULT")) {
        skipDefault(cursor);
      } else if (cursor.accept("CHECK")) {
        cursor.skipGroup();
        constraint = Optional.empty();
        off = Optional.empty();
      } else if (cursor.accept("COLLATE")) {
        collation = Optional.of(cursor.name().name().text());
      } else if (cursor.accept("GENERATED")) {
        generated(cursor);
      } else if (cursor.looksAt("AUTO_INCREMENT") || cursor.looksAt("IDENTITY")) {
        identity |= cursor.next().is("IDENTITY");
        nullable = false;
        cursor.skipGroup();
      } else if (cursor.accept("ON")) {
        cursor.next();
        if (!cursor.acceptAny("CASCADE", "RESTRICT")
            && !cursor.accept("SET", "NULL")
            && !cursor.accept("SET", "DEFAULT")
            && !cursor.accept("NO", "ACTION")
            && !cursor.atEnd()) {
          cursor.next();
          cursor.skipGroup();
        }
      } else if (cursor.looksAt("(")) {
        cursor.group();
      } else {
        cursor.next();
      }
    }

    private void primaryKey(TokenCursor cursor, SourceLocation location) {
      primary = true;
      boolean descending = cursor.accept("DESC");
      Optional<Boolean> clustered =
          cursor.accept("CLUSTERED")
              ? Optional.of(true)
              : cursor.accept("NONCLUSTERED") ? Optional.of(false) : Optional.empty();
      context.add(
          new AddPrimaryKey(
              table,
              constraint,
              List.of(key(descending)),
              List.of(),
              Optional.empty(),
              clustered,
              location));
      takeName(ConstraintKind.PRIMARY_KEY, location);
    }

    /** The name is used up; what comes next may switch the constraint off. */
    private void takeName(ConstraintKind kind, SourceLocation location) {
      off = Optional.of(SwitchReader.off(table, kind, constraint, List.of(column), location));
      constraint = Optional.empty();
    }

    private void unique(TokenCursor cursor, SourceLocation location) {
      cursor.accept("KEY");
      addUnique(cursor.accept("CLUSTERED"), location);
    }

    private void addUnique(boolean clustered, SourceLocation location) {
      context.add(
          new AddUniqueConstraint(
              table,
              constraint,
              List.of(key(/* descending= */ false)),
              List.of(),
              Optional.empty(),
              clustered,
              location));
      takeName(ConstraintKind.UNIQUE, location);
    }

    private KeyColumn key(boolean descending) {
      return KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), descending);
    }

    private void generated(TokenCursor cursor) {
      while (!cursor.atEnd() && !cursor.looksAt("AS")) {
        cursor.next();
      }
      cursor.accept("AS");
      if (cursor.accept("IDENTITY")) {
        nullable = false;
      }
      cursor.skipGroup();
    }

    private void skipDefault(TokenCursor cursor) {
      boolean first = true;
      while (!cursor.atEnd()) {
        boolean ends = !first && isOption(cursor.peek());
        if (ends) {
          return;
        }
        if (cursor.looksAt("(")) {
          cursor.group();
        } else {
          cursor.next();
        }
        first = false;
      }
    }
  }
}
