package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Makes statements at random over few names, so that they meet: tables, columns, keys and indexes
 * are created, renamed and dropped in any order. Many are refused by the database; those do not
 * count.
 */
final class RandomStatements {
  private static final List<String> TABLES = List.of("berth", "vessel", "tide");
  private static final List<String> COLUMNS = List.of("a", "b", "c", "d");

  private final Random random;
  private final boolean altersConstraints;
  private final RandomWords words;
  private int names;
  private int started;

  /**
   * A generator.
   *
   * @param altersConstraints true where ALTER TABLE is to add and drop constraints
   * @param words what the database says otherwise
   */
  RandomStatements(long seed, boolean altersConstraints, RandomWords words) {
    this.random = new Random(seed);
    this.altersConstraints = altersConstraints;
    this.words = words;
  }

  String next() {
    if (started++ < TABLES.size()) {
      return createTable();
    }
    int kinds = altersConstraints ? 20 : 10;
    return switch (random.nextInt(kinds)) {
      case 0, 1 -> createTable();
      case 2, 3 -> createIndex();
      case 4 -> "drop table " + table();
      case 5 -> words.renameTable(table(), table());
      case 6 -> addColumn();
      case 7 -> words.dropIndex(name(), table());
      case 8 -> words.renameColumn(table(), column(), column());
      case 9 -> "alter table " + table() + " drop column " + column();
      case 10 -> words.renameIndex(table(), name(), newName());
      case 11, 12 -> addConstraint("unique (" + columns() + ")");
      case 13 -> addConstraint("primary key (" + columns() + ")");
      case 14, 15 -> addConstraint(foreignKey());
      case 16, 17 -> words.dropConstraint(table(), name(), random.nextInt(4));
      case 18 -> "alter table " + table() + " rename constraint " + name() + " to " + newName();
      case 19 -> words.nullability(table(), column(), random.nextBoolean());
      default -> throw new IllegalStateException();
    };
  }

  private String addColumn() {
    String options =
        switch (random.nextInt(6)) {
          case 0 -> " default 1 not null";
          case 1 -> " unique";
          case 2 -> words.reference(" references " + table() + " (" + column() + ")");
          default -> "";
        };
    return "alter table " + table() + " add column " + column() + " int" + options;
  }

  private String createTable() {
    StringBuilder sql = new StringBuilder("create table " + table() + " (");
    List<String> parts = new ArrayList<>();
    for (String column : List.of("a", "b", "c")) {
      String options =
          switch (random.nextInt(9)) {
            case 0 -> " not null";
            case 1 -> words.key(" unique");
            case 2 -> column.equals("a") ? words.key(" primary key") : " not null";
            case 3 -> random.nextInt(3) == 0 ? " references " + table() + " (a)" : "";
            default -> "";
          };
      parts.add(column + " int" + options);
    }
    if (random.nextInt(3) == 0) {
      parts.add("constraint " + newName() + " unique (" + columns() + ")");
    }
    if (random.nextInt(4) == 0) {
      parts.add("unique (" + columns() + ")");
    }
    if (random.nextInt(3) == 0) {
      parts.add(
          (random.nextBoolean() ? "" : "constraint " + newName() + " ")
              + "primary key ("
              + columns()
              + ")");
    }
    if (random.nextInt(9) == 0) {
      parts.add((random.nextBoolean() ? "" : "constraint " + newName() + " ") + foreignKey());
    }
    return sql.append(String.join(", ", parts)).append(")").toString();
  }

  private String foreignKey() {
    if (random.nextInt(4) > 0) {
      return "foreign key (" + column() + ") references " + table() + " (" + column() + ")";
    }
    return "foreign key (a, b) references "
        + table()
        + (random.nextBoolean() ? " (a, b)" : " (b, a)");
  }

  private String createIndex() {
    return "create "
        + (random.nextInt(3) == 0 ? "unique " : "")
        + "index "
        + newName()
        + " on "
        + table()
        + " ("
        + columns()
        + (random.nextInt(4) == 0 ? " desc" : "")
        + ")"
        + words.indexEnd(random.nextInt(6), column());
  }

  private String addConstraint(String constraint) {
    return "alter table "
        + table()
        + " add "
        + (random.nextInt(4) == 0 ? "" : "constraint " + newName() + " ")
        + constraint;
  }

  private String table() {
    return pick(TABLES);
  }

  private String column() {
    return pick(COLUMNS);
  }

  private String columns() {
    String first = column();
    String second = column();
    return first.equals(second) || random.nextInt(3) == 0 ? first : first + ", " + second;
  }

  /** A name that was given before, most likely one of the last. */
  private String name() {
    return "n" + Math.max(0, names - 1 - random.nextInt(6));
  }

  private String newName() {
    return "n" + names++;
  }

  private String pick(List<String> from) {
    return from.get(random.nextInt(from.size()));
  }
}
