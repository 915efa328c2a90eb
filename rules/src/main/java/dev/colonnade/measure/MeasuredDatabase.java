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

/**
 * How one kind of database is asked for its plans, by Liquibase short name. A parameter of a query
 * is bound in the way in which that database plans for any value, where it has one.
 */
enum MeasuredDatabase {
  /**
   * Parameters stand for any value ({@code GENERIC_PLAN}, from 16 on). The tables are vacuumed as
   * they would be in service: an index answers alone only for pages that are known to be visible to
   * all (manual, "Index-Only Scans and Covering Indexes").
   */
  POSTGRESQL("postgresql", "vacuum (analyze) %s") {
    @Override
    PlannedReads reads(Connection connection, String sql, List<Object> values) throws SQLException {
      return PostgresPlan.of(
          rows(connection, explain("format json, costs off", values) + sql, List.of()));
    }

    @Override
    String plan(Connection connection, String sql, List<Object> values) throws SQLException {
      return rows(connection, explain("costs on", values) + sql, List.of());
    }

    private static String explain(String options, List<Object> values) {
      return "explain (" + options + (values.isEmpty() ? ") " : ", generic_plan) ");
    }

    @Override
    String placeholder(int number) {
      return "$" + number;
    }
  },
  /** The plan names the index in a comment behind the table. */
  H2("h2", "analyze table %s") {
    @Override
    PlannedReads reads(Connection connection, String sql, List<Object> values) throws SQLException {
      return H2Plan.of(plan(connection, sql, values));
    }
  },
  /** The plan as a table has one row for each table read, in the order of the join. */
  MARIADB("mariadb", "analyze table %s") {
    @Override
    PlannedReads reads(Connection connection, String sql, List<Object> values) throws SQLException {
      return MariaDbPlan.of(rows(connection, "explain format=json " + sql, values));
    }
  };

  private final String shortName;
  private final String analyze;

  MeasuredDatabase(String shortName, String analyze) {
    this.shortName = shortName;
    this.analyze = analyze;
  }

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

  /** What the plan says; values are given in the order of the parameters. */
  abstract PlannedReads reads(Connection connection, String sql, List<Object> values)
      throws SQLException;

  /** The plan for people, columns separated by tabs. */
  String plan(Connection connection, String sql, List<Object> values) throws SQLException {
    return rows(connection, "explain " + sql, values);
  }

  /** What stands for a parameter. */
  String placeholder(int number) {
    return "?";
  }

  void analyze(Connection connection, String table) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(String.format(Locale.ROOT, analyze, table));
    }
  }

  private static String rows(Connection connection, String sql, List<Object> values)
      throws SQLException {
    if (values.isEmpty()) {
      // Not prepared: what stands for any value is no parameter of the driver's.
      try (Statement statement = connection.createStatement();
          ResultSet rows = statement.executeQuery(sql)) {
        return text(rows);
      }
    }
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
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
