package dev.colonnade.measure;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Counts what lies in the tables of the measured database, so that a prediction and a plan speak of
 * the same rows: fewer than the statistics file states where rows were put in up to a cap.
 */
final class CountedRows {
  private final Connection connection;
  private final Statistics stated;

  CountedRows(Connection connection, Statistics stated) {
    this.connection = connection;
    this.stated = stated;
  }

  /** The statistics of what lies there; a table that cannot be counted keeps what is stated. */
  Statistics count(Schema schema) {
    Map<Identifier, TableStatistics> tables = new HashMap<>();
    for (Table table : schema.tables()) {
      TableStatistics known = stated.table(table.name());
      try {
        tables.put(table.name(), table(table, known));
      } catch (SQLException e) {
        tables.put(table.name(), known); // the load has listed the table, where it failed
      }
    }
    return new Statistics(tables);
  }

  private TableStatistics table(Table table, TableStatistics known) throws SQLException {
    double rows = number("count(*)", table);
    Map<Identifier, ColumnStatistics> columns = new HashMap<>();
    for (Column column : table.columns()) {
      ColumnStatistics before = known.column(column.name());
      try {
        columns.put(column.name(), column(table, column, rows, before));
      } catch (SQLException e) {
        columns.put(column.name(), before); // a type that cannot be counted, such as a document
      }
    }
    return new TableStatistics(OptionalDouble.of(rows), OptionalDouble.empty(), columns);
  }

  private ColumnStatistics column(Table table, Column column, double rows, ColumnStatistics before)
      throws SQLException {
    String name = column.name().text();
    double filled = number("count(" + name + ")", table);
    boolean first = table.primaryKey().indexOf(column.name()) == 0;
    return new ColumnStatistics(
        OptionalDouble.of(number("count(distinct " + name + ")", table)),
        OptionalDouble.of(rows == 0 ? 0 : (rows - filled) / rows),
        column.type().family() == TypeFamily.TEXT
            ? OptionalDouble.of(number("coalesce(avg(octet_length(" + name + ")), 0)", table))
            : OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        before.commonValues(),
        first ? OptionalDouble.of(1) : OptionalDouble.of(0));
  }

  private double number(String expression, Table table) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery("select " + expression + " from " + table.name().text())) {
      row.next();
      return row.getDouble(1);
    }
  }
}
