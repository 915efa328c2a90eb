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
  private final boolean altersColumns;
  private int names;

  /**
   * A generator.
   *
   * @param altersConstraints true where ALTER TABLE is to add and drop constraints
   * @param altersColumns true where it is to add and drop columns
   */
  RandomStatements(long seed, boolean altersConstraints, boolean altersColumns) {
    this.random = new Random(seed);
    this.altersConstraints = altersConstraints;
    this.altersColumns = altersColumns;
  }

  String next() {
    int kinds = altersConstraints ? 17 : 9;
    return switch (random.nextInt(kinds)) {
      case 0, 1 -> createTable();
      case 2, 3 -> createIndex();
      case 4 -> "drop table " + table();
      case 5 -> "alter table " + table() + " rename to " + table();
      case 6 -> altersColumns ? addColumn() : createIndex();
      case 7 -> "drop index " + name();
      case 8 -> renameColumn();
      case 9, 10 -> altersColumns ? dropColumn() : createTable();
      case 11 -> addConstraint("unique (" + columns() + ")");
      case 12 -> addConstraint("primary key (" + columns() + ")");
      case 13, 14 ->
          addConstraint(
              "foreign key (" + column() + ") references " + table() + " (" + column() + ")");
      case 15 -> "alter table " + table() + " drop constraint " + name();
      case 16 -> "alter table " + table() + " rename constraint " + name() + " to " + newName();
      default -> throw new IllegalStateException();
    };
  }

  private String addColumn() {
    return "alter table " + table() + " add column " + column() + " int";
  }

  private String dropColumn() {
    return "alter table " + table() + " drop column " + column();
  }

  private String renameColumn() {
    String from = column();
    return altersConstraints && random.nextBoolean()
        ? "alter index " + name() + " rename to " + newName()
        : "alter table " + table() + " rename column " + from + " to " + column();
  }

  private String createTable() {
    StringBuilder sql = new StringBuilder("create table " + table() + " (");
    List<String> parts = new ArrayList<>();
    for (String column : List.of("a", "b", "c")) {
      String options =
          switch (random.nextInt(8)) {
            case 0 -> " not null";
            case 1 -> " unique";
            case 2 -> column.equals("a") ? " primary key" : "";
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
      parts.add("primary key (" + columns() + ")");
    }
    return sql.append(String.join(", ", parts)).append(")").toString();
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
        + ")";
  }

  private String addConstraint(String constraint) {
    return "alter table " + table() + " add constraint " + newName() + " " + constraint;
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
