package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddForeignKey;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** Reads constraints and indexes that stand inside CREATE TABLE or behind ALTER TABLE ... ADD. */
final class ConstraintReader {
  private final StatementContext context;
  private final Identifier table;

  ConstraintReader(StatementContext context, Identifier table) {
    this.context = context;
    this.table = table;
  }

  /** Reads a constraint or index; false, with nothing passed, when this is something else. */
  boolean read(TokenCursor cursor) {
    SourceLocation location = context.at(cursor);
    Optional<Identifier> name = Optional.empty();
    if (cursor.looksAt("CONSTRAINT")) {
      cursor.next();
      cursor.acceptIfNotExists();
      if (!startsConstraint(cursor)) {
        name = Optional.of(cursor.name().name());
      }
    }
    if (cursor.accept("PRIMARY", "KEY")) {
      primaryKey(cursor, name, location);
    } else if (cursor.looksAt("UNIQUE") && !isTypedColumn(cursor)) {
      cursor.next();
      unique(cursor, name, location);
    } else if (cursor.accept("FOREIGN", "KEY")) {
      foreignKey(cursor, name, location);
    } else if (cursor.looksAt("CHECK", "(") || (name.isPresent() && cursor.looksAt("CHECK"))) {
      cursor.rest();
    } else if (cursor.looksAt("EXCLUDE") && !isTypedColumn(cursor)) {
      cursor.next();
      exclude(cursor, name, location);
    } else if (isSpecialIndex(cursor)) {
      IndexMethod method = special(cursor.next());
      cursor.acceptAny("INDEX", "KEY");
      index(cursor, method, location);
    } else if (isIndex(cursor)) {
      cursor.next();
      index(cursor, IndexMethod.BTREE, location);
    } else if (name.isPresent()) {
      // Not-null constraints with a name, temporal constraints: no effect on indexes.
      cursor.rest();
    } else {
      return false;
    }
    return true;
  }

  private static boolean startsConstraint(TokenCursor cursor) {
    return cursor.looksAt("PRIMARY", "KEY")
        || cursor.looksAt("FOREIGN", "KEY")
        || cursor.looksAt("UNIQUE", "(")
        || cursor.looksAt("CHECK", "(");
  }

  /** A column that bears the name of a constraint: the name of a type follows. */
  static boolean isTypedColumn(TokenCursor cursor) {
    return cursor.peek(1).kind() == SqlToken.Kind.WORD
        && TypeFamilies.isTypeName(cursor.peek(1).text());
  }

  /** {@code KEY name (columns)}, but not a column called key. */
  private static boolean isIndex(TokenCursor cursor) {
    if (!cursor.looksAt("KEY") && !cursor.looksAt("INDEX")) {
      return false;
    }
    if (cursor.peek(1).is("(")) {
      return true;
    }
    return cursor.peek(1).isName() && !isTypedColumn(cursor);
  }

  private static boolean isSpecialIndex(TokenCursor cursor) {
    boolean vector =
        cursor.looksAt("VECTOR") && (cursor.peek(1).is("INDEX") || cursor.peek(1).is("KEY"));
    return cursor.looksAt("FULLTEXT") || cursor.looksAt("SPATIAL") || vector;
  }

  private static IndexMethod special(SqlToken word) {
    return word.is("FULLTEXT")
        ? IndexMethod.FULLTEXT
        : word.is("SPATIAL") ? IndexMethod.SPATIAL : IndexMethod.SPECIAL;
  }

  /** Reads on behind PRIMARY KEY. */
  void primaryKey(TokenCursor cursor, Optional<Identifier> name, SourceLocation location) {
    Optional<Boolean> clustered = Optional.empty();
    if (cursor.acceptAny("NONCLUSTERED")) {
      clustered = Optional.of(false);
    } else if (cursor.acceptAny("CLUSTERED")) {
      clustered = Optional.of(true);
    }
    if (cursor.peek().isName() && !cursor.looksAt("USING")) {
      cursor.name();
    }
    method(cursor);
    List<KeyColumn> key = cursor.looksAt("(") ? new KeyReader(context).key(cursor) : List.of();
    List<Identifier> included = included(cursor);
    TokenCursor behind = cursor.copy();
    Optional<Identifier> usingIndex = usingIndex(cursor);
    cursor.rest();
    context.add(new AddPrimaryKey(table, name, key, included, usingIndex, clustered, location));
    madeOff(behind, ConstraintKind.PRIMARY_KEY, name, List.of(), location);
  }

  private void madeOff(
      TokenCursor behind,
      ConstraintKind kind,
      Optional<Identifier> name,
      List<Identifier> columns,
      SourceLocation location) {
    SwitchReader.madeOff(behind, table, kind, name, columns, location).ifPresent(context::add);
  }

  private void unique(TokenCursor cursor, Optional<Identifier> name, SourceLocation location) {
    boolean nulls = cursor.accept("NULLS");
    if (nulls) {
      cursor.accept("NOT");
      cursor.accept("DISTINCT");
    }
    boolean clustered = false;
    boolean more = true;
    while (more) {
      clustered = clustered || cursor.looksAt("CLUSTERED");
      more = cursor.acceptAny("KEY", "INDEX", "CLUSTERED", "NONCLUSTERED", "HASH");
    }
    Optional<Identifier> indexName = Optional.empty();
    if (cursor.peek().isName() && !cursor.looksAt("USING")) {
      indexName = Optional.of(cursor.name().name());
    }
    method(cursor);
    List<KeyColumn> key = cursor.looksAt("(") ? new KeyReader(context).key(cursor) : List.of();
    List<Identifier> included = included(cursor);
    TokenCursor behind = cursor.copy();
    Optional<Identifier> usingIndex = usingIndex(cursor);
    cursor.rest();
    Optional<Identifier> chosen = indexName.or(() -> name);
    context.add(
        new AddUniqueConstraint(table, chosen, key, included, usingIndex, clustered, location));
    List<Identifier> columns = key.stream().flatMap(part -> part.column().stream()).toList();
    madeOff(behind, ConstraintKind.UNIQUE, chosen, columns, location);
  }

  private static List<Identifier> included(TokenCursor cursor) {
    return cursor.accept("INCLUDE") ? cursor.nameList() : List.of();
  }

  private static IndexMethod method(TokenCursor cursor) {
    if (cursor.looksAt("USING") && !cursor.peek(1).is("INDEX")) {
      cursor.next();
      return CreateIndexReader.method(cursor.next().text());
    }
    return IndexMethod.BTREE;
  }

  /** The index behind USING INDEX; passes the rest. */
  Optional<Identifier> usingIndex(TokenCursor cursor) {
    while (!cursor.atEnd()) {
      if (cursor.accept("USING", "INDEX")) {
        if (cursor.looksAt("(", "CREATE")) {
          return Optional.of(madeIndex(cursor.group()));
        }
        boolean named = cursor.peek().isName() && !cursor.looksAt("TABLESPACE");
        return named && !isStorageWord(cursor.peek())
            ? Optional.of(cursor.name().name())
            : Optional.empty();
      }
      cursor.next();
    }
    return Optional.empty();
  }

  /** The index of {@code USING INDEX (CREATE INDEX ...)}, which comes into being first. */
  private Identifier madeIndex(TokenCursor statement) {
    SourceLocation location = context.at(statement);
    statement.expect("CREATE");
    Identifier name = CreateIndexReader.nameIn(statement);
    new CreateIndexReader(context).read(statement, location);
    return name;
  }

  private static boolean isStorageWord(SqlToken token) {
    return token.is("PCTFREE")
        || token.is("INITRANS")
        || token.is("STORAGE")
        || token.is("LOCAL")
        || token.is("GLOBAL")
        || token.is("ENABLE")
        || token.is("LOGGING")
        || token.is("NOLOGGING")
        || token.is("REVERSE")
        || token.is("COMPRESS");
  }

  private void foreignKey(TokenCursor cursor, Optional<Identifier> name, SourceLocation location) {
    cursor.acceptIfNotExists();
    Optional<Identifier> indexName =
        cursor.looksAt("(") ? Optional.empty() : Optional.of(cursor.identifier());
    List<Identifier> columns = cursor.nameList();
    cursor.expect("REFERENCES");
    Optional<Identifier> chosen = name.or(() -> indexName);
    context.add(references(cursor, table, chosen, columns, location));
    madeOff(cursor, ConstraintKind.FOREIGN_KEY, chosen, columns, location);
    cursor.rest();
  }

  /** Reads on behind REFERENCES. */
  static AddForeignKey references(
      TokenCursor cursor,
      Identifier table,
      Optional<Identifier> name,
      List<Identifier> columns,
      SourceLocation location) {
    Identifier referenced = cursor.name().written();
    List<Identifier> referencedColumns = cursor.looksAt("(") ? cursor.nameList() : List.of();
    return new AddForeignKey(table, name, columns, referenced, referencedColumns, location);
  }

  private void exclude(TokenCursor cursor, Optional<Identifier> name, SourceLocation location) {
    Optional<Identifier> chosen = name;
    TokenCursor parts = cursor.copy();
    method(parts);
    if (name.isEmpty()) {
      chosen = Optional.of(exclusionName(new KeyReader(context).key(parts)));
    }
    new CreateIndexReader(context)
        .inTable(cursor, table, chosen, IndexMethod.BTREE, /* ifNotExists= */ false, location);
  }

  /**
   * The name that PostgreSQL gives (ChooseConstraintName in src/backend/commands/indexcmds.c, from
   * memory), where it is not taken yet.
   */
  private Identifier exclusionName(List<KeyColumn> key) {
    String columns =
        key.stream()
            .map(part -> part.column().map(Identifier::text).orElse("expr"))
            .collect(Collectors.joining("_"));
    return new Identifier(table.unqualified().text() + "_" + columns + "_excl");
  }

  private void index(TokenCursor cursor, IndexMethod method, SourceLocation location) {
    boolean ifNotExists = cursor.acceptIfNotExists();
    boolean unnamed = cursor.looksAt("(") || cursor.looksAt("USING");
    Optional<Identifier> name = unnamed ? Optional.empty() : Optional.of(cursor.name().name());
    new CreateIndexReader(context).inTable(cursor, table, name, method, ifNotExists, location);
  }
}
