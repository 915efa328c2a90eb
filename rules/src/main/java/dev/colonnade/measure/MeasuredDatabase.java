package dev.colonnade.measure;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How one kind of database is asked for its plans, by Liquibase short name. A parameter of a query
 * is bound in the way in which that database plans for any value, where it has one.
 */
enum MeasuredDatabase {
  /** The plan in text form; parameters stand for any value ({@code GENERIC_PLAN}, from 16 on). */
  POSTGRESQL("postgresql", "analyze %s", "%s", "explain (generic_plan) ", "explain ") {
    private static final Pattern SCAN =
        Pattern.compile(
            "(?:Index(?: Only)? Scan(?: Backward)? using (?<index>\\S+) on (?<table>\\S+))|(?:Seq"
                + " Scan on (?<whole>\\S+))|(?:Bitmap Heap Scan on (?<heap>\\S+))|(?:Bitmap Index"
                + " Scan on (?<bitmap>\\S+))");

    @Override
    List<TableRead> reads(String plan) {
      List<TableRead> reads = new ArrayList<>();
      Matcher scan = SCAN.matcher(plan);
      String heap = "";
      while (scan.find()) {
        if (scan.group("index") != null) {
          reads.add(new TableRead(scan.group("table"), Optional.of(scan.group("index"))));
        } else if (scan.group("whole") != null) {
          reads.add(new TableRead(scan.group("whole"), Optional.empty()));
        } else if (scan.group("heap") != null) {
          heap = scan.group("heap");
        } else {
          reads.add(new TableRead(heap, Optional.of(scan.group("bitmap"))));
        }
      }
      return reads;
    }

    @Override
    String placeholder(int number) {
      return "$" + number;
    }

    @Override
    boolean binds() {
      return false;
    }
  },
  /** The plan names the index in a comment behind the table. */
  H2("h2", "analyze table %s", "%s", "explain ", "explain ") {
    private static final Pattern SCAN =
        Pattern.compile(
            "\"(?<table>[^\"]+)\"(?: \"[^\"]+\")?\\s+/\\* (?:[\\w]+\\.)?(?<index>[\\w.]+)");

    @Override
    List<TableRead> reads(String plan) {
      List<TableRead> reads = new ArrayList<>();
      Matcher scan = SCAN.matcher(plan);
      while (scan.find()) {
        String index = scan.group("index");
        reads.add(
            new TableRead(
                scan.group("table"),
                index.toLowerCase(Locale.ROOT).contains("tablescan")
                    ? Optional.empty()
                    : Optional.of(index)));
      }
      return reads;
    }
  },
  /** The plan as a table: one row for each table read, in the order of the join. */
  MARIADB("mariadb", "analyze table %s", "%s", "explain ", "explain ") {
    @Override
    List<TableRead> reads(String plan) {
      List<TableRead> reads = new ArrayList<>();
      for (String line : plan.split("\n", -1)) {
        String[] cells = line.split("\t", -1);
        if (cells.length >= 7 && !cells[2].equals("null") && !cells[2].startsWith("<")) {
          reads.add(
              new TableRead(
                  cells[2], cells[5].equals("null") ? Optional.empty() : Optional.of(cells[5])));
        }
      }
      return reads;
    }
  };

  private final String shortName;
  private final String analyze;
  private final String quoted;
  private final String explainAnyValue;
  private final String explain;

  MeasuredDatabase(
      String shortName, String analyze, String quoted, String explainAnyValue, String explain) {
    this.shortName = shortName;
    this.analyze = analyze;
    this.quoted = quoted;
    this.explainAnyValue = explainAnyValue;
    this.explain = explain;
  }

  /**
   * One table of a plan.
   *
   * @param index empty where the table itself is read from end to end
   */
  record TableRead(String table, Optional<String> index) {}

  static Optional<MeasuredDatabase> of(String shortName) {
    for (MeasuredDatabase database : values()) {
      if (database.shortName.equals(shortName)) {
        return Optional.of(database);
      }
    }
    return Optional.empty();
  }

  String shortName() {
    return shortName;
  }

  /** The tables of a plan in the order in which it names them. */
  abstract List<TableRead> reads(String plan);

  /** What stands for a parameter. */
  String placeholder(int number) {
    return "?";
  }

  /** Whether values are bound to the parameters. */
  boolean binds() {
    return true;
  }

  void analyze(Connection connection, String table) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(String.format(Locale.ROOT, analyze, String.format(quoted, table)));
    }
  }

  /** The plan, columns separated by tabs; values are given in the order of the parameters. */
  String plan(Connection connection, String sql, List<Object> values) throws SQLException {
    if (!binds()) {
      try (Statement statement = connection.createStatement();
          ResultSet rows =
              statement.executeQuery((values.isEmpty() ? explain : explainAnyValue) + sql)) {
        return text(rows);
      }
    }
    try (PreparedStatement statement = connection.prepareStatement(explain + sql)) {
      for (int i = 0; i < values.size(); i++) {
        statement.setObject(i + 1, values.get(i));
      }
      try (ResultSet rows = statement.executeQuery()) {
        return text(rows);
      }
    }
  }

  private static String text(ResultSet rows) throws SQLException {
    int columns = rows.getMetaData().getColumnCount();
    List<String> lines = new ArrayList<>();
    while (rows.next()) {
      List<String> cells = new ArrayList<>();
      for (int i = 1; i <= columns; i++) {
        cells.add(String.valueOf(rows.getString(i)));
      }
      lines.add(String.join("\t", cells));
    }
    return String.join("\n", lines);
  }
}
