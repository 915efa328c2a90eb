package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Makes tables, columns and indexes at random over few names, so that they meet. */
abstract class RandomTables {
  static final List<String> NUMBERS = List.of("a", "b");
  static final List<String> TEXTS = List.of("c", "d");
  private static final List<String> TABLES = List.of("berth", "vessel", "tide");

  final Random random;
  final RealDatabase database;
  private int names;

  RandomTables(long seed, RealDatabase database) {
    this.random = new Random(seed);
    this.database = database;
  }

  /** One table after the other, each once. */
  String createTable(int place) {
    return createTable(TABLES.get(place));
  }

  String createTable(String table) {
    StringBuilder text = new StringBuilder("<createTable");
    attribute(text, "tableName", table);
    if (random.nextInt(4) == 0) {
      attribute(text, schema(), "");
    }
    text.append(">\n");
    boolean key = random.nextInt(3) > 0;
    boolean pair = random.nextInt(5) == 0;
    String keyName = random.nextBoolean() ? newName() : "";
    for (String column : List.of("a", "b", "c", "d")) {
      boolean primary = key && (column.equals("a") || (pair && column.equals("b")));
      text.append(column(column, primary, keyName));
    }
    return text.append("</createTable>\n").toString();
  }

  private String column(String name, boolean primary, String keyName) {
    StringBuilder constraints = new StringBuilder();
    if (primary) {
      attribute(constraints, "primaryKey", "true");
      attribute(constraints, keyName.isEmpty() ? "" : "primaryKeyName", keyName);
    }
    switch (random.nextInt(10)) {
      case 0, 1 -> attribute(constraints, "nullable", "false");
      case 2 -> attribute(constraints, "unique", "true");
      case 3 -> {
        attribute(constraints, "unique", "true");
        attribute(constraints, "uniqueConstraintName", newName());
      }
      case 4 -> {
        if (NUMBERS.contains(name)) {
          attribute(constraints, "foreignKeyName", newName());
          attribute(constraints, "references", table() + "(a)");
        }
      }
      default -> {}
    }
    StringBuilder text = new StringBuilder("<column");
    attribute(text, "name", name);
    attribute(text, "type", type(name));
    if (primary && name.equals("a") && random.nextInt(3) == 0) {
      attribute(text, "autoIncrement", "true");
    }
    return constraints.isEmpty()
        ? text.append("/>\n").toString()
        : text.append("><constraints").append(constraints).append("/></column>\n").toString();
  }

  static String type(String column) {
    return NUMBERS.contains(column) ? "int" : "varchar(20)";
  }

  String addColumn() {
    StringBuilder text = new StringBuilder("<addColumn");
    attribute(text, "tableName", table());
    attribute(text, random.nextInt(4) == 0 ? schema() : "", "");
    text.append(">\n");
    for (int columns = several(); columns > 0; columns--) {
      text.append(column(column(), /* primary= */ false, ""));
    }
    return text.append("</addColumn>\n").toString();
  }

  String createIndex() {
    StringBuilder text = new StringBuilder("<createIndex");
    attribute(text, "tableName", table());
    attribute(text, random.nextInt(8) == 0 ? "" : "indexName", newName());
    attribute(text, random.nextInt(4) == 0 ? "unique" : "", "true");
    attribute(text, random.nextInt(4) == 0 ? schema() : "", "");
    text.append(">\n");
    List<String> columns = new ArrayList<>(List.of(columns().split(",")));
    for (String column : columns) {
      text.append("<column");
      attribute(text, "name", column);
      attribute(text, random.nextInt(4) == 0 ? "descending" : "", "true");
      text.append("/>");
    }
    if (database == RealDatabase.POSTGRESQL && random.nextInt(5) == 0) {
      String included = column();
      if (!columns.contains(included)) {
        text.append("<column name='").append(included).append("' included='true'/>");
      }
    }
    return text.append("</createIndex>\n").toString();
  }

  /** The schema of everything, now and then written before a name. */
  String schema() {
    if (random.nextInt(3) > 0) {
      return "";
    }
    return switch (database) {
      case POSTGRESQL -> "schemaName=public";
      case H2, HSQLDB -> "schemaName=PUBLIC";
      case DERBY -> "schemaName=APP";
      case MARIADB, SQLITE -> "";
    };
  }

  /** Two now and then, where the first is taken back when the second fails. */
  int several() {
    return switch (database) {
      case POSTGRESQL, DERBY, SQLITE -> 1 + random.nextInt(2);
      case H2, HSQLDB, MARIADB -> 1;
    };
  }

  String optional(String attribute) {
    return random.nextInt(4) == 0 ? "" : attribute;
  }

  static String element(String name, String... attributes) {
    StringBuilder text = new StringBuilder("<").append(name);
    for (int i = 0; i < attributes.length; i += 2) {
      attribute(text, attributes[i], attributes[i + 1]);
    }
    return text.append("/>\n").toString();
  }

  /** Without a name there is no attribute; the name can bring its value. */
  static void attribute(StringBuilder text, String name, String value) {
    if (name.isEmpty()) {
      return;
    }
    int at = name.indexOf('=');
    String key = at < 0 ? name : name.substring(0, at);
    String shown = at < 0 ? value : name.substring(at + 1);
    text.append(' ').append(key).append("='").append(shown).append('\'');
  }

  String table() {
    return pick(TABLES);
  }

  String column() {
    return pick(random.nextBoolean() ? NUMBERS : TEXTS);
  }

  String columns() {
    String first = column();
    String second = column();
    return first.equals(second) || random.nextInt(3) == 0 ? first : first + "," + second;
  }

  /** A name that was given before, most likely one of the last. */
  String name() {
    return "n" + Math.max(0, names - 1 - random.nextInt(6));
  }

  String newName() {
    return "n" + names++;
  }

  String pick(String... from) {
    return pick(List.of(from));
  }

  String pick(List<String> from) {
    return from.get(random.nextInt(from.size()));
  }
}
