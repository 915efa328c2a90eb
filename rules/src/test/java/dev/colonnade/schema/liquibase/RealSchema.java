package dev.colonnade.schema.liquibase;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import liquibase.Contexts;
import liquibase.LabelExpression;
import liquibase.Liquibase;
import liquibase.Scope;
import liquibase.database.Database;
import liquibase.database.DatabaseFactory;
import liquibase.database.jvm.JdbcConnection;
import liquibase.logging.core.NoOpLogService;
import liquibase.resource.ResourceAccessor;
import liquibase.ui.LoggerUIService;

/**
 * Runs Liquibase's own update on a real database and reads back what the catalog says: one line a
 * column, primary key and foreign key, from JDBC metadata.
 */
final class RealSchema {
  private static final String[] TABLE_TYPES = {
    "TABLE", "BASE TABLE", "PARTITIONED TABLE", "MATERIALIZED VIEW"
  };

  private RealSchema() {}

  /** Runs an update; with a session, our parsers read the files instead of Liquibase's. */
  static void update(
      Connection connection, ResourceAccessor accessor, ReadSession session, String... changelogs)
      throws Exception {
    update(connection, accessor, session, Map.of(), List.of(changelogs));
  }

  static void update(
      Connection connection,
      ResourceAccessor accessor,
      ReadSession session,
      Map<String, String> parameters,
      List<String> changelogs)
      throws Exception {
    Map<String, Object> values = new HashMap<>();
    values.put(Scope.Attr.resourceAccessor.name(), accessor);
    values.put(Scope.Attr.logService.name(), new NoOpLogService());
    values.put(Scope.Attr.ui.name(), new LoggerUIService());
    if (session != null) {
      Parsers.register();
      values.put(ReadSession.SCOPE_KEY, session);
    }
    Scope.child(
        values,
        () -> {
          Database database =
              DatabaseFactory.getInstance()
                  .findCorrectDatabaseImplementation(new JdbcConnection(connection));
          for (String changelog : changelogs) {
            Liquibase liquibase = new Liquibase(changelog, accessor, database);
            parameters.forEach(liquibase::setChangeLogParameter);
            liquibase.update(new Contexts(), new LabelExpression());
          }
        });
    connection.setAutoCommit(true);
  }

  static ResourceAccessor accessor(Path directory) throws Exception {
    return new liquibase.resource.DirectoryResourceAccessor(directory);
  }

  /** Columns with nullability, keys and foreign keys, in lower case and sorted. */
  static SortedSet<String> tables(Connection connection, String schema) throws SQLException {
    SortedSet<String> lines = new TreeSet<>();
    DatabaseMetaData metaData = connection.getMetaData();
    try (ResultSet tables =
        metaData.getTables(connection.getCatalog(), schema, null, TABLE_TYPES)) {
      while (tables.next()) {
        String table = tables.getString("TABLE_NAME");
        if (isOurs(table)) {
          columns(metaData, schema, table, lines);
          foreignKeys(metaData, schema, table, lines);
        }
      }
    }
    return lines;
  }

  /** Like {@link #tables} without nullability, which SQLite's catalog does not tell of keys. */
  static SortedSet<String> keys(Connection connection, String schema) throws SQLException {
    return withoutNullability(tables(connection, schema));
  }

  static SortedSet<String> withoutNullability(SortedSet<String> lines) {
    SortedSet<String> without = new TreeSet<>();
    lines.forEach(line -> without.add(line.replace(" not null", "")));
    return without;
  }

  static boolean isOurs(String table) {
    String name = table.toLowerCase(Locale.ROOT);
    return !name.startsWith("databasechangelog") && !name.startsWith("sqlite_");
  }

  private static void columns(
      DatabaseMetaData metaData, String schema, String table, SortedSet<String> lines)
      throws SQLException {
    try (ResultSet columns =
        metaData.getColumns(metaData.getConnection().getCatalog(), schema, table, null)) {
      while (columns.next()) {
        boolean nullable = columns.getInt("NULLABLE") != DatabaseMetaData.columnNoNulls;
        lines.add(
            (table + "." + columns.getString("COLUMN_NAME") + (nullable ? "" : " not null"))
                .toLowerCase(Locale.ROOT));
      }
    }
    Map<Integer, String> key = new TreeMap<>();
    try (ResultSet keys =
        metaData.getPrimaryKeys(metaData.getConnection().getCatalog(), schema, table)) {
      while (keys.next()) {
        key.put(keys.getInt("KEY_SEQ"), keys.getString("COLUMN_NAME"));
      }
    }
    if (!key.isEmpty()) {
      lines.add((table + " key " + key.values()).toLowerCase(Locale.ROOT));
    }
  }

  private static void foreignKeys(
      DatabaseMetaData metaData, String schema, String table, SortedSet<String> lines)
      throws SQLException {
    Map<String, String> parents = new TreeMap<>();
    Map<String, Map<Integer, String>> columns = new TreeMap<>();
    try (ResultSet keys =
        metaData.getImportedKeys(metaData.getConnection().getCatalog(), schema, table)) {
      int unnamed = 0;
      while (keys.next()) {
        if (keys.getInt("KEY_SEQ") == 1) {
          unnamed++;
        }
        String name = keys.getString("FK_NAME");
        String id = name == null || name.isEmpty() ? "#" + unnamed : name;
        parents.put(id, keys.getString("PKTABLE_NAME"));
        columns
            .computeIfAbsent(id, k -> new TreeMap<>())
            .put(
                keys.getInt("KEY_SEQ"),
                keys.getString("FKCOLUMN_NAME") + "=" + keys.getString("PKCOLUMN_NAME"));
      }
    }
    columns.forEach(
        (id, pairs) ->
            lines.add(
                (table + " references " + parents.get(id) + " " + sorted(pairs.values()))
                    .toLowerCase(Locale.ROOT)));
  }

  /** The pairs of a reference in one order: catalogs differ in theirs, which means nothing. */
  static List<String> sorted(Collection<String> pairs) {
    return pairs.stream().map(pair -> pair.toLowerCase(Locale.ROOT)).sorted().toList();
  }

  /** One row of strings for each row that a query gives. */
  static List<Map<String, String>> rows(Connection connection, String sql) throws SQLException {
    List<Map<String, String>> rows = new java.util.ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet result = statement.executeQuery(sql)) {
      while (result.next()) {
        Map<String, String> row = new HashMap<>();
        for (int i = 1; i <= result.getMetaData().getColumnCount(); i++) {
          row.put(
              result.getMetaData().getColumnLabel(i).toLowerCase(Locale.ROOT), result.getString(i));
        }
        rows.add(row);
      }
    }
    return rows;
  }
}
