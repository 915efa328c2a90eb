package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;

/**
 * Makes change sets at random: all change types that touch tables, columns, views, keys and
 * indexes, with names of schemas, quoting, preconditions and modified SQL. Many cannot run; those
 * do not count.
 */
final class RandomChangeSets extends RandomTables {
  private static final List<String> VIEWS = List.of("arrivals", "departures");

  private final String quoting;

  RandomChangeSets(long seed, RealDatabase database) {
    super(seed, database);
    List<String> strategies =
        new ArrayList<>(List.of("LEGACY", "LEGACY", "QUOTE_ONLY_RESERVED_WORDS"));
    // SQLite takes a quoted name that no column has for a text:
    // https://sqlite.org/quirks.html#dblquote
    if (database != RealDatabase.SQLITE) {
      strategies.add("QUOTE_ALL_OBJECTS");
    }
    this.quoting = pick(strategies);
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
      text.append(id < 3 ? createTable(id) : change());
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
}
