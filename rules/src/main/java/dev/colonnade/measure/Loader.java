package dev.colonnade.measure;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Statistics;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Fills the empty tables of a measured database and has it collect its statistics. */
final class Loader {
  private static final int BATCH = 500;

  private final Connection connection;
  private final MeasuredDatabase database;
  private final Schema schema;
  private final Statistics statistics;
  private final int cap;

  Loader(
      Connection connection,
      MeasuredDatabase database,
      Schema schema,
      Statistics statistics,
      int cap) {
    this.connection = connection;
    this.database = database;
    this.schema = schema;
    this.statistics = statistics;
    this.cap = cap;
  }

  /** Fills the tables, those that others refer to first; what a table refuses becomes an entry. */
  List<NotUnderstood> load() throws SQLException {
    List<NotUnderstood> refused = new ArrayList<>();
    for (Table table : inOrder()) {
      try {
        if (isEmpty(table)) {
          fill(table);
        }
      } catch (SQLException e) {
        refused.add(refusal(table, "its rows", e));
      }
    }
    for (Table table : inOrder()) {
      try {
        database.analyze(connection, table.name().text());
      } catch (SQLException e) {
        refused.add(refusal(table, "its analysis", e));
      }
    }
    return refused;
  }

  private static NotUnderstood refusal(Table table, String what, SQLException e) {
    SourceLocation place = table.location();
    String reason = e.getMessage() == null ? e.getSQLState() : e.getMessage();
    return new NotUnderstood(
        place,
        "table "
            + table.name().text()
            + ": the database refuses "
            + what
            + ": "
            + reason.lines().findFirst().orElse(""));
  }

  private boolean isEmpty(Table table) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery("select count(*) from " + table.name().text())) {
      return rows.next() && rows.getLong(1) == 0;
    }
  }

  private void fill(Table table) throws SQLException {
    RowGenerator generator = new RowGenerator(table, statistics.table(table.name()), cap);
    List<Column> columns = table.columns();
    List<String> names = columns.stream().map(column -> column.name().text()).toList();
    String sql =
        "insert into "
            + table.name().text()
            + " ("
            + String.join(", ", names)
            + ") values ("
            + String.join(", ", Collections.nCopies(columns.size(), "?"))
            + ")";
    boolean before = connection.getAutoCommit();
    connection.setAutoCommit(false);
    try (PreparedStatement insert = connection.prepareStatement(sql)) {
      for (int row = 0; row < generator.rows(); row++) {
        for (int i = 0; i < columns.size(); i++) {
          insert.setObject(i + 1, value(table, columns.get(i), generator, row));
        }
        insert.addBatch();
        if (row % BATCH == BATCH - 1) {
          insert.executeBatch();
        }
      }
      insert.executeBatch();
      connection.commit();
    } catch (SQLException e) {
      connection.rollback();
      throw e;
    } finally {
      connection.setAutoCommit(before);
    }
  }

  /** A foreign key takes one of the values that the other table has. */
  private Object value(Table table, Column column, RowGenerator generator, int row) {
    Object own = generator.value(column, row);
    for (ForeignKey key : table.foreignKeys()) {
      int position = key.columns().indexOf(column.name());
      if (position < 0 || own == null) {
        continue;
      }
      Table other = schema.table(key.referencedTable()).orElse(null);
      if (other == null || position >= key.referencedColumns().size()) {
        continue;
      }
      Column target = other.column(key.referencedColumns().get(position)).orElse(null);
      RowGenerator rows = new RowGenerator(other, statistics.table(other.name()), cap);
      if (target != null && rows.rows() > 0) {
        int chosen = Math.floorMod((table.name().folded().hashCode() + row) * 7919, rows.rows());
        return rows.value(target, chosen);
      }
    }
    return own;
  }

  private List<Table> inOrder() {
    Set<Table> ordered = new LinkedHashSet<>();
    for (Table table : schema.tables()) {
      visit(table, ordered, new LinkedHashSet<>());
    }
    return List.copyOf(ordered);
  }

  private void visit(Table table, Set<Table> ordered, Set<Table> open) {
    if (ordered.contains(table) || !open.add(table)) {
      return;
    }
    for (ForeignKey key : table.foreignKeys()) {
      schema.table(key.referencedTable()).ifPresent(other -> visit(other, ordered, open));
    }
    ordered.add(table);
  }
}
