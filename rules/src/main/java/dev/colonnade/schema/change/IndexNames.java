package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules.Naming;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/** The names that a database gives to constraints and indexes for which none was written. */
final class IndexNames {
  /** Longest name in bytes where names are made of table and columns. */
  private static final int NAME_BYTES = 63;

  private static final String AUTOMATIC = "sqlite_autoindex_";

  private final Naming naming;

  IndexNames(Naming naming) {
    this.naming = naming;
  }

  /**
   * A name as the database keeps it: cut to the length that it allows where it does so silently.
   */
  Identifier kept(Identifier written) {
    if (naming != Naming.TABLE_AND_COLUMNS || bytes(written.text()) <= NAME_BYTES) {
      return written;
    }
    String text = written.text();
    while (bytes(text) > NAME_BYTES) {
      text = text.substring(0, text.length() - 1);
    }
    return new Identifier(text);
  }

  /** The name of an unnamed primary key. */
  Identifier primaryKey(Identifier table, Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS -> composed(table, "", "pkey", taken);
      case FIRST_COLUMN -> new Identifier("PRIMARY");
      case HASHED -> hashed("CONSTRAINT_", table, taken);
      case NUMBERED, CONSTRAINT, UNFORESEEABLE -> new Identifier("system_pk_" + table.text());
    };
  }

  /** The name of an unnamed unique constraint. */
  Identifier unique(Identifier table, List<Identifier> columns, Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS -> composed(table, joined(columns), "key", taken);
      case FIRST_COLUMN -> numbered(columns.get(0), taken);
      case HASHED -> hashed("CONSTRAINT_", table, taken);
      case NUMBERED, CONSTRAINT, UNFORESEEABLE ->
          numbered(new Identifier("system_uk_" + table.text() + "_" + joined(columns)), taken);
    };
  }

  /** The name of an unnamed foreign key. */
  Identifier foreignKey(
      Identifier table, List<Identifier> columns, int count, Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS -> composed(table, joined(columns), "fkey", taken);
      case FIRST_COLUMN -> new Identifier(table.text() + "_ibfk_" + (count + 1));
      case HASHED -> hashed("CONSTRAINT_", table, taken);
      case NUMBERED, CONSTRAINT, UNFORESEEABLE ->
          numbered(new Identifier("system_fk_" + table.text() + "_" + joined(columns)), taken);
    };
  }

  /** The name of the index that serves a primary key or unique constraint. */
  Identifier forKey(
      Identifier table,
      Identifier constraint,
      boolean named,
      boolean primary,
      int indexes,
      Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS, CONSTRAINT, UNFORESEEABLE -> constraint;
      case FIRST_COLUMN -> primary ? new Identifier("PRIMARY") : constraint;
      case NUMBERED -> new Identifier(AUTOMATIC + table.text() + "_" + (indexes + 1));
      case HASHED ->
          hashed(primary ? "PRIMARY_KEY_" : indexPrefix(constraint, named), table, taken);
    };
  }

  private static String indexPrefix(Identifier constraint, boolean named) {
    return named ? constraint.text() + "_INDEX_" : "CONSTRAINT_INDEX_";
  }

  /** The name of the index that the database makes for a foreign key. */
  Identifier forForeignKey(
      Identifier table,
      Identifier constraint,
      boolean named,
      List<Identifier> columns,
      Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS, CONSTRAINT, UNFORESEEABLE, NUMBERED -> constraint;
      case FIRST_COLUMN -> named ? constraint : numbered(columns.get(0), taken);
      case HASHED -> hashed(indexPrefix(constraint, named), table, taken);
    };
  }

  /** The name of an index created without one. */
  Identifier created(
      Identifier table,
      List<KeyColumn> key,
      List<Identifier> included,
      Predicate<Identifier> taken) {
    return switch (naming) {
      case TABLE_AND_COLUMNS -> composed(table, keyNames(key, included), "idx", taken);
      case FIRST_COLUMN ->
          numbered(key.get(0).column().orElse(new Identifier("functional_index")), taken);
      case HASHED -> hashed("INDEX_", table, taken);
      case NUMBERED, CONSTRAINT, UNFORESEEABLE ->
          numbered(
              new Identifier("system_ix_" + table.text() + "_" + keyNames(key, included)), taken);
    };
  }

  /** The name of an index after its table was renamed. */
  Identifier afterTableRename(Index index, Identifier from, Identifier to) {
    String prefix = AUTOMATIC + from.folded() + "_";
    return naming == Naming.NUMBERED && index.name().folded().startsWith(prefix)
        ? new Identifier(AUTOMATIC + to.text() + index.name().text().substring(prefix.length() - 1))
        : index.name();
  }

  private static String joined(List<Identifier> columns) {
    return columns.stream().map(Identifier::text).collect(Collectors.joining("_"));
  }

  private static String keyNames(List<KeyColumn> key, List<Identifier> included) {
    List<String> names = new ArrayList<>();
    for (KeyColumn part : key) {
      String base = expressionName(part.value());
      String name = base;
      for (int i = 1; names.contains(name); i++) {
        name = base + i;
      }
      names.add(name);
    }
    included.forEach(column -> names.add(column.text()));
    return String.join("_", names);
  }

  private static String expressionName(Expression value) {
    if (value instanceof ColumnRef column) {
      return column.column().text();
    }
    if (value instanceof Call call && call.name().startsWith("cast ")) {
      return expressionName(call.arguments().get(0));
    }
    if (value instanceof Call call && Character.isLetter(call.name().charAt(0))) {
      return call.name();
    }
    return "expr";
  }

  /**
   * Table, columns and label joined by underscores; the longer of table and columns is cut until
   * the whole fits, and a number makes it unique.
   */
  private static Identifier composed(
      Identifier table, String columns, String label, Predicate<Identifier> taken) {
    for (int pass = 0; ; pass++) {
      String tail = pass == 0 ? label : label + pass;
      String first = table.text();
      String second = columns;
      int room = NAME_BYTES - tail.length() - 1 - (second.isEmpty() ? 0 : 1);
      while (bytes(first) + bytes(second) > room) {
        if (bytes(first) > bytes(second)) {
          first = first.substring(0, first.length() - 1);
        } else {
          second = second.substring(0, second.length() - 1);
        }
      }
      Identifier name =
          new Identifier(first + (columns.isEmpty() ? "" : "_" + second) + "_" + tail);
      if (!taken.test(name)) {
        return name;
      }
    }
  }

  private static int bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8).length;
  }

  private static Identifier numbered(Identifier column, Predicate<Identifier> taken) {
    Identifier name = column;
    for (int i = 2; taken.test(name); i++) {
      name = new Identifier(column.text() + "_" + i);
    }
    return name;
  }

  private static Identifier hashed(String prefix, Identifier table, Predicate<Identifier> taken) {
    String hash =
        Integer.toHexString(table.text().toUpperCase(Locale.ROOT).hashCode())
            .toUpperCase(Locale.ROOT);
    Optional<Identifier> free = Optional.empty();
    for (int length = 1; length <= hash.length() && free.isEmpty(); length++) {
      free = Optional.of(new Identifier(prefix + hash.substring(0, length))).filter(taken.negate());
    }
    for (int i = 0; free.isEmpty(); i++) {
      free = Optional.of(new Identifier(prefix + hash + "_" + i)).filter(taken.negate());
    }
    return free.orElseThrow();
  }
}
