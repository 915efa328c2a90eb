package dev.colonnade.schema.sql;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.IndexChange.CreateIndex;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import dev.colonnade.schema.change.TableAlone;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Reads CREATE INDEX in the syntax of all supported databases. */
final class CreateIndexReader {
  /** Whether a database may use the index can change at any time. */
  static final String READ_ON = "; read on as if it were not";

  private final StatementContext context;
  private boolean unique;
  private boolean clustered;
  private boolean replace;
  private boolean joined;
  private boolean alone;
  private IndexMethod method = IndexMethod.BTREE;
  private List<Identifier> included = new ArrayList<>();
  private Optional<String> predicateText = Optional.empty();

  CreateIndexReader(StatementContext context) {
    this.context = context;
  }

  /** True when the words behind CREATE lead to INDEX. */
  static boolean applies(TokenCursor behindCreate) {
    TokenCursor cursor = behindCreate.copy();
    for (int i = 0; i < 6 && !cursor.atEnd(); i++) {
      if (cursor.accept("INDEX")) {
        return true;
      }
      if (!cursor.acceptAny(
          "OR",
          "REPLACE",
          "UNIQUE",
          "CLUSTERED",
          "NONCLUSTERED",
          "FULLTEXT",
          "SPATIAL",
          "BITMAP",
          "COLUMNSTORE",
          "PRIMARY",
          "XML",
          "HASH",
          "NULLS",
          "DISTINCT",
          "NOT",
          "MULTIVALUE",
          "VECTOR",
          "ONLINE",
          "OFFLINE")) {
        return false;
      }
    }
    return false;
  }

  /** The name behind INDEX in what stands behind CREATE. */
  static Identifier nameIn(TokenCursor behindCreate) {
    TokenCursor cursor = behindCreate.copy();
    while (!cursor.accept("INDEX")) {
      cursor.next();
    }
    return cursor.name().name();
  }

  /**
   * Reads an index that is written inside its table, or added to it, behind its name; one of SQL
   * Server says only here that it is unique or clustered.
   */
  void inTable(
      TokenCursor cursor,
      Identifier table,
      Optional<Identifier> name,
      IndexMethod kind,
      boolean ifNotExists,
      SourceLocation location) {
    method = kind;
    while (!cursor.looksAt("(")) {
      if (cursor.accept("UNIQUE")) {
        unique = true;
      } else if (cursor.accept("CLUSTERED")) {
        clustered = true;
      } else if (cursor.accept("COLUMNSTORE")) {
        method = IndexMethod.SPECIAL;
      } else if (cursor.accept("HASH")) {
        method = IndexMethod.HASH;
      } else if (!cursor.accept("NONCLUSTERED")) {
        if (!cursor.looksAt("USING")) {
          throw cursor.unexpected("expected (");
        }
        using(cursor);
        method = kind == IndexMethod.BTREE ? method : kind;
      }
    }
    keyAndOptions(cursor, name, table, ifNotExists, location);
  }

  /** Reads on behind CREATE. */
  void read(TokenCursor cursor, SourceLocation location) {
    modifiers(cursor);
    cursor.acceptAny("CONCURRENTLY", "ASYNC");
    boolean ifNotExists = cursor.acceptIfNotExists();
    Optional<Identifier> name =
        cursor.looksAt("ON") ? Optional.empty() : Optional.of(cursor.name().name());
    using(cursor);
    cursor.expect("ON");
    if (cursor.looksAt("CLUSTER") && !cursor.peek(1).is("(")) {
      context.note(location, "create index: an index on a cluster of tables is not analysed");
      cursor.rest();
      return;
    }
    if (cursor.looksAt("ONLY") && cursor.peek(1).isName()) {
      cursor.next();
      alone = true;
    }
    Identifier table = cursor.name().written();
    using(cursor);
    if (cursor.peek().isName() && cursor.peek(1).is("(")) {
      // An alias, by which Oracle lets expressions call the table.
      cursor.next();
    }
    if (!cursor.looksAt("(")) {
      context.note(location, "create index: no key columns in the statement");
      cursor.rest();
      return;
    }
    keyAndOptions(cursor, name, table, ifNotExists, location);
  }

  private void keyAndOptions(
      TokenCursor cursor,
      Optional<Identifier> name,
      Identifier table,
      boolean ifNotExists,
      SourceLocation location) {
    List<KeyColumn> key = new KeyReader(context).key(cursor);
    options(cursor);
    if (joined) {
      return;
    }
    if (replace) {
      name.ifPresent(
          old ->
              context.add(new DropIndex(Optional.of(table), old, /* ifExists= */ true, location)));
    }
    Optional<Predicate> predicate = predicateText.map(text -> context.predicate(text, location));
    CreateIndex change =
        new CreateIndex(
            name,
            table,
            unique,
            key,
            included,
            predicate,
            predicateText,
            method,
            clustered,
            ifNotExists,
            location);
    context.add(alone ? new TableAlone(change) : change);
  }

  private void modifiers(TokenCursor cursor) {
    while (!cursor.accept("INDEX")) {
      SqlToken token = cursor.next();
      switch (token.text().toUpperCase(Locale.ROOT)) {
        case "UNIQUE" -> unique = true;
        case "CLUSTERED" -> clustered = true;
        case "FULLTEXT" -> method = IndexMethod.FULLTEXT;
        case "SPATIAL" -> method = IndexMethod.SPATIAL;
        case "BITMAP" -> method = IndexMethod.BITMAP;
        case "HASH" -> method = IndexMethod.HASH;
        case "COLUMNSTORE", "XML", "VECTOR" -> method = IndexMethod.SPECIAL;
        case "REPLACE" -> replace = true;
        default -> {}
      }
    }
  }

  private void using(TokenCursor cursor) {
    if (cursor.accept("USING")) {
      method = method(cursor.next().text());
    }
  }

  /** The kind of index behind the word that follows USING. */
  static IndexMethod method(String word) {
    return switch (word.toLowerCase(Locale.ROOT)) {
      case "btree", "rbtree" -> IndexMethod.BTREE;
      case "hash" -> IndexMethod.HASH;
      case "rtree" -> IndexMethod.SPATIAL;
      case "gin" -> IndexMethod.GIN;
      case "gist" -> IndexMethod.GIST;
      case "spgist" -> IndexMethod.SPGIST;
      case "brin" -> IndexMethod.BRIN;
      default -> IndexMethod.SPECIAL;
    };
  }

  private void options(TokenCursor cursor) {
    while (!cursor.atEnd()) {
      if (cursor.accept("INCLUDE")) {
        included = new ArrayList<>(cursor.nameList());
      } else if (cursor.accept("WHERE")) {
        predicateText = Optional.of(predicateText(cursor));
      } else if (cursor.accept("USING")) {
        IndexMethod named = method(cursor.next().text());
        method = method == IndexMethod.BTREE ? named : method;
      } else if (cursor.looksAt("REVERSE") && !cursor.peek(1).is("SCANS")) {
        cursor.next();
        method = IndexMethod.REVERSE;
      } else if (cursor.looksAt("INVISIBLE") || cursor.looksAt("IGNORED")) {
        context.note(context.at(cursor), "create index: hidden from the planner" + READ_ON);
        cursor.next();
      } else if (cursor.accept("CLUSTER")) {
        clustered = true;
      } else if (cursor.looksAt("FROM") && cursor.peek(1).isName()) {
        context.note(
            context.at(cursor), "create index: an index over the join of tables is not analysed");
        joined = true;
        cursor.rest();
      } else if (cursor.accept("INDEXTYPE", "IS")) {
        String type = cursor.name().name().text().toLowerCase(Locale.ROOT);
        method = type.startsWith("spatial") ? IndexMethod.SPATIAL : IndexMethod.FULLTEXT;
      } else if (cursor.looksAt("(")) {
        replace |= isReplacing(cursor.group());
      } else {
        cursor.next();
      }
    }
  }

  /** SQL Server's {@code WITH (DROP_EXISTING = ON)} puts the index in the place of another one. */
  private static boolean isReplacing(TokenCursor options) {
    for (TokenCursor option : options.splitAtCommas()) {
      if (option.looksAt("DROP_EXISTING", "=", "ON")) {
        return true;
      }
    }
    return false;
  }

  private static String predicateText(TokenCursor cursor) {
    int start = cursor.offset();
    while (!cursor.atEnd()
        && !cursor.looksAt("WITH", "(")
        && !cursor.looksAt("TABLESPACE")
        && !(cursor.looksAt("ON") && cursor.peek(1).isName())) {
      if (cursor.looksAt("(")) {
        cursor.group();
      } else {
        cursor.next();
      }
    }
    return cursor.textFrom(start);
  }
}
