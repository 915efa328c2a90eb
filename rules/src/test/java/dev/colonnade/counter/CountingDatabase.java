package dev.colonnade.counter;

import java.io.IOException;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;

/** A database that runs inside the test and counts what a query reads. */
abstract class CountingDatabase implements AutoCloseable {
  private static final int BATCH = 200;

  private final Connection connection;

  CountingDatabase(Connection connection) {
    this.connection = connection;
  }

  /** Creates, fills and analyses the tables; indexes are built over the rows. */
  final void load(List<DataTable> tables) throws SQLException {
    for (DataTable table : tables) {
      for (String ddl : table.ddl()) {
        execute(ddl);
      }
      insert(table);
      for (String ddl : table.indexDdl()) {
        execute(ddl);
      }
      execute(analyze(table.name()));
    }
  }

  final void drop(List<DataTable> tables) throws SQLException {
    for (DataTable table : tables) {
      execute("drop table " + table.name());
    }
  }

  private void insert(DataTable table) throws SQLException {
    connection.setAutoCommit(false);
    String row = "(" + String.join(", ", Collections.nCopies(table.columns().size(), "?")) + ")";
    List<Object[]> rows = table.rows();
    for (int from = 0; from < rows.size(); from += BATCH) {
      List<Object[]> some = rows.subList(from, Math.min(rows.size(), from + BATCH));
      String sql =
          "insert into "
              + table.name()
              + " values "
              + String.join(", ", Collections.nCopies(some.size(), row));
      try (PreparedStatement insert = connection.prepareStatement(sql)) {
        int i = 1;
        for (Object[] values : some) {
          for (Object value : values) {
            insert.setObject(i++, value);
          }
        }
        insert.executeUpdate();
      }
    }
    connection.commit();
    connection.setAutoCommit(true);
  }

  /** The statement that collects the database's own statistics. */
  abstract String analyze(String table);

  /** Index entries read by a query of one table through an index; empty where it is not used. */
  abstract OptionalDouble entries(CountedQuery query, String index) throws SQLException;

  final void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    } catch (SQLException e) {
      throw new SQLException(e.getMessage() + " in " + sql, e.getSQLState(), e);
    }
  }

  /** All rows, the columns of each joined by a tab. */
  final List<String> rows(String sql) throws SQLException {
    List<String> result = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet found = statement.executeQuery(sql)) {
      int columns = found.getMetaData().getColumnCount();
      while (found.next()) {
        List<String> row = new ArrayList<>();
        for (int i = 1; i <= columns; i++) {
          row.add(String.valueOf(found.getString(i)));
        }
        result.add(String.join("\t", row));
      }
    } catch (SQLException e) {
      throw new SQLException(e.getMessage() + " in " + sql, e.getSQLState(), e);
    }
    return result;
  }

  @Override
  public void close() throws SQLException, IOException {
    connection.close();
  }
}
