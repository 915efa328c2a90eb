package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Makes change sets at random over few names, so that they meet: all change types that touch
 * tables, columns, views, keys and indexes, with names of schemas, quoting, preconditions and
 * modified SQL. Many cannot run; those do not count.
 */
final class RandomChangeSets {
  private static final List<String> TABLES = List.of("berth", "vessel", "tide");
  private static final List<String> NUMBERS = List.of("a", "b");
  private static final List<String> TEXTS = List.of("c", "d");
  private static final List<String> VIEWS = List.of("arrivals", "departures");

  private final Random random;
  private final RealDatabase database;
  private final String quoting;
  private int names;

  RandomChangeSets(long seed, RealDatabase database) {
    this.random = new Random(seed);
    this.database = database;
    this.quoting = pick("LEGACY", "LEGACY", "QUOTE_ONLY_RESERVED_WORDS", "QUOTE_ALL_OBJECTS");
  }

  /** One change set with the given id. */
  String next(int id) {
    StringBuilder text = new StringBuilder();
    text.append("<changeSet id='").append(id).append("' author='harbour'");
    attribute(text, "objectQuotingStrategy", quoting);
    if (random.nextInt(12) == 0) {
      attribute(text, "dbms", pick("h2", "!h2", "postgresql, mariadb", "mysql", "all"));
    }
    text.append(">\n");
    if (random.nextInt(3) == 0) {
      text.append(preconditions());
    }
    for (int changes = id > 2 ? several() : 1; changes > 0; changes--) {
      text.append(id < 3 ? createTable(TABLES.get(id)) : change());
    }
    if (random.nextInt(8) == 0 && database != RealDatabase.SQLITE) {
      text.append(modification());
    }
    return text.append("</changeSet>\n").toString();
  }

  private String preconditions() {
    String onFail = pick("MARK_RAN", "MARK_RAN", "CONTINUE", "WARN");
    String first = condition();
    String inner =
        switch (random.nextInt(4)) {
          case 0 -> first;
          case 1 -> "<not>" + first + "</not>";
          case 2 -> "<or>" + first + condition() + "</or>";
          default -> "<not>" + first + condition() + "</not>";
        };
    return "<preConditions onFail='" + onFail + "'>" + inner + "</preConditions>\n";
  }

  private String condition() {
    return switch (random.nextInt(7)) {
      case 0 -> element("tableExists", "tableName", table());
      case 1 -> element("columnExists", "tableName", table(), "columnName", column());
      case 2 -> element("indexExists", "tableName", table(), "indexName", name());
      case 3 -> element("indexExists", "tableName", table(), "columnNames", columns());
      case 4 ->
          element(
              "foreignKeyConstraintExists",
              "foreignKeyTableName",
              table(),
              "foreignKeyName",
              name());
      case 5 -> element("primaryKeyExists", "tableName", table());
      default -> element("viewExists", "viewName", pick(VIEWS));
    };
  }

  private String change() {
    return switch (random.nextInt(34)) {
      case 0, 1, 2 -> createTable(table());
      case 3, 4, 5, 6 -> createIndex();
      case 7, 8 -> element("dropTable", "tableName", table(), schema(), "");
      case 9, 10 ->
          element("renameTable", "oldTableName", table(), "newTableName", table(), schema(), "");
      case 11, 12, 13 -> addColumn();
      case 14 -> dropColumn();
      case 15, 16 -> renameColumn();
      case 17 -> element("dropIndex", "tableName", table(), "indexName", name(), schema(), "");
      case 18, 19 ->
          element(
              "addUniqueConstraint",
              "tableName",
              table(),
              "columnNames",
              columns(),
              optional("constraintName"),
              newName());
      case 20 ->
          element(
              "addPrimaryKey",
              "tableName",
              table(),
              "columnNames",
              columns(),
              optional("constraintName"),
              newName());
      case 21, 22 ->
          element(
              "addForeignKeyConstraint",
              "baseTableName",
              table(),
              "baseColumnNames",
              pick(NUMBERS),
              "referencedTableName",
              table(),
              "referencedColumnNames",
              pick(NUMBERS),
              "constraintName",
              newName());
      case 23 -> element("dropUniqueConstraint", "tableName", table(), "constraintName", name());
      case 24 -> element("dropPrimaryKey", "tableName", table());
      case 25 ->
          element("dropForeignKeyConstraint", "baseTableName", table(), "constraintName", name());
      case 26 -> element("dropAllForeignKeyConstraints", "baseTableName", table());
      case 27 -> nullability();
      case 28 -> modifyDataType();
      case 29 ->
          element(
              "mergeColumns",
              "tableName",
              table(),
              "column1Name",
              pick(TEXTS),
              "column2Name",
              pick(TEXTS),
              "joinString",
              " ",
              "finalColumnName",
              pick(TEXTS),
              "finalColumnType",
              "varchar(50)");
      case 30 ->
          element(
              "addLookupTable",
              "existingTableName",
              table(),
              "existingColumnName",
              pick(TEXTS),
              "newTableName",
              table(),
              "newColumnName",
              pick(TEXTS),
              "constraintName",
              newName());
      case 31 -> view();
      case 32 ->
          element(
              "addAutoIncrement",
              "tableName",
              table(),
              "columnName",
              pick(NUMBERS),
              "columnDataType",
              "int");
      default -> remark();
    };
  }

  private String view() {
    return switch (random.nextInt(4)) {
      case 0 -> element("dropView", "viewName", pick(VIEWS));
      case 1 -> element("renameView", "oldViewName", pick(VIEWS), "newViewName", pick(VIEWS));
      default ->
          "<createView viewName='"
              + pick(VIEWS)
              + "' replaceIfExists='"
              + random.nextBoolean()
              + "'>select 1 as one</createView>\n";
    };
  }

  private String remark() {
    return switch (random.nextInt(4)) {
      case 0 -> element("setTableRemarks", "tableName", table(), "remarks", "at the quay");
      case 1 ->
          element(
              "setColumnRemarks",
              "tableName",
              table(),
              "columnName",
              pick(NUMBERS),
              "columnDataType",
              "int",
              "remarks",
              "counted");
      case 2 ->
          element(
              "addDefaultValue",
              "tableName",
              table(),
              "columnName",
              pick(NUMBERS),
              "columnDataType",
              "int",
              "defaultValueNumeric",
              "1");
      default ->
          element(
              "dropDefaultValue",
              "tableName",
              table(),
              "columnName",
              pick(NUMBERS),
              "columnDataType",
              "int");
    };
  }

  private String createTable(String table) {
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

  private static String type(String column) {
    return NUMBERS.contains(column) ? "int" : "varchar(20)";
  }

  private String addColumn() {
    StringBuilder text = new StringBuilder("<addColumn");
    attribute(text, "tableName", table());
    attribute(text, random.nextInt(4) == 0 ? schema() : "", "");
    text.append(">\n");
    for (int columns = several(); columns > 0; columns--) {
      text.append(column(column(), /* primary= */ false, ""));
    }
    return text.append("</addColumn>\n").toString();
  }

  private String dropColumn() {
    return several() == 1
        ? element("dropColumn", "tableName", table(), "columnName", column())
        : "<dropColumn tableName='"
            + table()
            + "'><column name='"
            + column()
            + "'/><column name='"
            + column()
            + "'/></dropColumn>\n";
  }

  private String renameColumn() {
    List<String> family = random.nextBoolean() ? NUMBERS : TEXTS;
    return element(
        "renameColumn",
        "tableName",
        table(),
        "oldColumnName",
        pick(family),
        "newColumnName",
        pick(family),
        "columnDataType",
        type(family.get(0)));
  }

  private String nullability() {
    String column = column();
    return element(
        random.nextBoolean() ? "addNotNullConstraint" : "dropNotNullConstraint",
        "tableName",
        table(),
        "columnName",
        column,
        "columnDataType",
        type(column));
  }

  private String modifyDataType() {
    String column = column();
    return element(
        "modifyDataType",
        "tableName",
        table(),
        "columnName",
        column,
        "newDataType",
        NUMBERS.contains(column) ? pick("int", "bigint") : pick("varchar(20)", "varchar(60)"));
  }

  private String createIndex() {
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

  /** Of the SQL that is sent: an option behind it, or another name in it. */
  private String modification() {
    String dbms = random.nextInt(3) == 0 ? " dbms='postgresql,h2'" : "";
    boolean partial = database == RealDatabase.POSTGRESQL;
    return switch (random.nextInt(3)) {
      case 0 ->
          "<modifySql" + dbms + "><replace replace='varchar(20)' with='varchar(30)'/></modifySql>";
      case 1 ->
          "<modifySql"
              + dbms
              + "><regExpReplace replace=' ("
              + pick(TEXTS)
              + ")([ ,)])' with=' $1$2'/></modifySql>";
      default ->
          partial
              ? "<modifySql><append value=' where a is not null'/></modifySql>"
              : "<modifySql" + dbms + "><append value=' '/></modifySql>";
    };
  }

  /** The schema of everything, now and then written before a name. */
  private String schema() {
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
  private int several() {
    return switch (database) {
      case POSTGRESQL, DERBY, SQLITE -> 1 + random.nextInt(2);
      case H2, HSQLDB, MARIADB -> 1;
    };
  }

  private String optional(String attribute) {
    return random.nextInt(4) == 0 ? "" : attribute;
  }

  private static String element(String name, String... attributes) {
    StringBuilder text = new StringBuilder("<").append(name);
    for (int i = 0; i < attributes.length; i += 2) {
      attribute(text, attributes[i], attributes[i + 1]);
    }
    return text.append("/>\n").toString();
  }

  /** Without a name there is no attribute; the name can bring its value. */
  private static void attribute(StringBuilder text, String name, String value) {
    if (name.isEmpty()) {
      return;
    }
    int at = name.indexOf('=');
    String key = at < 0 ? name : name.substring(0, at);
    String shown = at < 0 ? value : name.substring(at + 1);
    text.append(' ').append(key).append("='").append(shown).append('\'');
  }

  private String table() {
    return pick(TABLES);
  }

  private String column() {
    return pick(random.nextBoolean() ? NUMBERS : TEXTS);
  }

  private String columns() {
    String first = column();
    String second = column();
    return first.equals(second) || random.nextInt(3) == 0 ? first : first + "," + second;
  }

  /** A name that was given before, most likely one of the last. */
  private String name() {
    return "n" + Math.max(0, names - 1 - random.nextInt(6));
  }

  private String newName() {
    return "n" + names++;
  }

  private String pick(String... from) {
    return pick(List.of(from));
  }

  private String pick(List<String> from) {
    return from.get(random.nextInt(from.size()));
  }
}
