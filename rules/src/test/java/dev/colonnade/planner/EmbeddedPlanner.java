package dev.colonnade.planner;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.planner.TestTable.TestIndex;
import java.io.IOException;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A database that runs inside the test and is asked what its planner does. */
abstract class EmbeddedPlanner implements AutoCloseable {
  private final Dialect dialect;
  private final Abilities abilities;
  private final Connection connection;

  EmbeddedPlanner(Dialect dialect, Abilities abilities, Connection connection) {
    this.dialect = dialect;
    this.abilities = abilities;
    this.connection = connection;
  }

  /** The facts that are held against this database. */
  final Dialect dialect() {
    return dialect;
  }

  final Abilities abilities() {
    return abilities;
  }

  /** Name and version as the driver tells it. */
  final String version() throws SQLException {
    return connection.getMetaData().getDatabaseProductName()
        + " "
        + connection.getMetaData().getDatabaseProductVersion();
  }

  /** Creates a table with its rows and without indexes. */
  void create(TestTable table) throws SQLException {
    execute(table.ddl());
    for (String insert : table.inserts(abilities)) {
      execute(insert);
    }
  }

  void createIndex(TestIndex index) throws SQLException {
    execute(index.ddl());
  }

  void dropIndex(TestIndex index) throws SQLException {
    execute("drop index " + index.name());
  }

  void drop(TestTable table) throws SQLException {
    execute("drop table " + table.name());
  }

  /** Collects the database's own statistics. */
  abstract void analyze(TestTable table) throws SQLException;

  /**
   * Asks about one index, which exists.
   *
   * @param table the table of the query that has the index
   */
  abstract PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException;

  /**
   * The plan of a query as the database makes it by itself: no index is forced.
   *
   * @param indexes those that exist
   */
  abstract PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException;

  /** False where plans name tables only, whatever their aliases. */
  boolean tellsAliases() {
    return true;
  }

  /**
   * Whether the rows of a query of one block come in order or in groups without a sort; empty where
   * the plan does not tell.
   *
   * @param grouped true where groups or different rows are asked for
   * @param sorted true where an order is asked for
   */
  abstract Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted);

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
        ResultSet rows = statement.executeQuery(sql)) {
      int columns = rows.getMetaData().getColumnCount();
      while (rows.next()) {
        List<String> row = new ArrayList<>();
        for (int i = 1; i <= columns; i++) {
          row.add(String.valueOf(rows.getString(i)));
        }
        result.add(String.join("\t", row));
      }
    } catch (SQLException e) {
      throw new SQLException(e.getMessage() + " in " + sql, e.getSQLState(), e);
    }
    return result;
  }

  /** One text. */
  final String text(String sql) throws SQLException {
    return String.join("\n", rows(sql));
  }

  /** The part of the key that a column name of a plan stands for. */
  static Optional<String> keyText(TestIndex index, String name) {
    String wanted = name.toLowerCase(Locale.ROOT);
    return index.keyTexts().stream().filter(wanted::equals).findFirst();
  }

  @Override
  public void close() throws SQLException, IOException {
    connection.close();
  }
}
