package dev.colonnade.query.jpql;

import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import org.hibernate.HibernateException;
import org.hibernate.Session;
import org.hibernate.SessionFactory;
import org.hibernate.cfg.Configuration;
import org.hibernate.engine.jdbc.connections.spi.ConnectionProvider;

/**
 * Hibernate ORM 7.4 with the dialect of a database that is not there: what SQL it would send. Its
 * connection takes no statement, so only the first one of each query is seen.
 */
final class OfflineHibernate implements AutoCloseable {
  private final SessionFactory sessions;
  private final List<String> sent = new ArrayList<>();

  /**
   * A factory without a database.
   *
   * @param dialect the class of the dialect
   */
  OfflineHibernate(String dialect, List<Class<?>> entities) {
    Configuration configuration =
        new Configuration()
            .setProperty("hibernate.dialect", dialect)
            .setProperty("hibernate.boot.allow_jdbc_metadata_access", "false")
            .setStatementInspector(
                sql -> {
                  sent.add(sql);
                  return sql;
                });
    configuration.getProperties().put("hibernate.connection.provider_class", new Nowhere());
    entities.forEach(configuration::addAnnotatedClass);
    sessions = configuration.buildSessionFactory();
  }

  /** The first statement for a query; empty where Hibernate itself cannot translate it. */
  String sql(String jpql) {
    sent.clear();
    try (Session session = sessions.openSession()) {
      session.beginTransaction();
      if (jpql.matches("(?is)(select|from|with).*")) {
        var query = session.createSelectionQuery(jpql, Object.class);
        PortDatabase.bind(query);
        query.getResultList();
      } else {
        var query = session.createMutationQuery(jpql);
        PortDatabase.bind(query);
        query.executeUpdate();
      }
    } catch (HibernateException
        | IllegalArgumentException
        | IllegalStateException
        | UnsupportedOperationException e) {
      return sent.isEmpty() ? "" : sent.get(0);
    }
    return sent.isEmpty() ? "" : sent.get(0);
  }

  @Override
  public void close() {
    sessions.close();
  }

  /** Gives connections on which nothing can be prepared. */
  static final class Nowhere implements ConnectionProvider {
    private static final long serialVersionUID = 1L;

    @Override
    public Connection getConnection() {
      return (Connection)
          Proxy.newProxyInstance(
              Nowhere.class.getClassLoader(),
              new Class<?>[] {Connection.class},
              (proxy, method, arguments) -> {
                if (method.getReturnType() == PreparedStatement.class
                    || method.getName().equals("createStatement")) {
                  throw new SQLException("there is no database");
                }
                if (method.getReturnType() == boolean.class) {
                  return method.getName().equals("getAutoCommit");
                }
                return method.getReturnType() == int.class ? 0 : null;
              });
    }

    @Override
    public void closeConnection(Connection connection) {}

    @Override
    public boolean supportsAggressiveRelease() {
      return false;
    }

    @Override
    public boolean isUnwrappableAs(Class<?> type) {
      return false;
    }

    @Override
    public <T> T unwrap(Class<T> type) {
      throw new UnsupportedOperationException(type.getName());
    }
  }
}
