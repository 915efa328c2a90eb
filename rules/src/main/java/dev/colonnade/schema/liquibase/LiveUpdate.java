package dev.colonnade.schema.liquibase;

import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import liquibase.Contexts;
import liquibase.LabelExpression;
import liquibase.Liquibase;
import liquibase.Scope;
import liquibase.UpdateSummaryEnum;
import liquibase.database.Database;
import liquibase.database.DatabaseFactory;
import liquibase.database.jvm.JdbcConnection;
import liquibase.exception.LiquibaseException;
import liquibase.logging.core.NoOpLogService;
import liquibase.ui.LoggerUIService;

/**
 * Runs Liquibase's own update of changelogs against a database. The files are read by the guarded
 * parsers: what would run code of the service (custom changes, preconditions and the like) is left
 * out; {@link ChangelogReader} has an entry for each.
 */
public final class LiveUpdate {
  private LiveUpdate() {}

  /**
   * Applies all root changelogs, one after another.
   *
   * @throws ChangelogException when a changelog is missing or broken
   * @throws SQLException when the database refuses a change
   */
  public static void apply(ChangelogInput input, Connection connection) throws SQLException {
    Parsers.register();
    try (RootsAccessor accessor = new RootsAccessor(input.baseDirectory(), input.roots())) {
      ReadSession session = new ReadSession(accessor);
      Map<String, Object> values = new HashMap<>();
      values.put(ReadSession.SCOPE_KEY, session);
      values.put(Scope.Attr.resourceAccessor.name(), accessor);
      values.put(Scope.Attr.logService.name(), new NoOpLogService());
      values.put(Scope.Attr.ui.name(), new LoggerUIService());
      values.put(Scope.Attr.classLoader.name(), LiveUpdate.class.getClassLoader());
      Scope.child(values, () -> update(input, session, connection));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (RuntimeException e) {
      throw e;
    } catch (Exception e) {
      throw new SQLException(e.getMessage(), e);
    }
  }

  private static void update(ChangelogInput input, ReadSession session, Connection connection)
      throws LiquibaseException {
    Database database =
        DatabaseFactory.getInstance()
            .findCorrectDatabaseImplementation(new JdbcConnection(connection));
    for (RootChangelog root : input.changelogs()) {
      String path = RootsAccessor.normalize(root.file());
      try (Liquibase liquibase = new Unclosed(path, session.accessor(), database)) {
        liquibase.setShowSummary(UpdateSummaryEnum.OFF);
        input.parameters().forEach(liquibase::setChangeLogParameter);
        liquibase.update(
            new Contexts(root.contexts().orElse("")),
            new LabelExpression(root.labels().orElse("")));
      }
    }
  }

  /** Leaves the connection open, which others use afterwards. */
  private static final class Unclosed extends Liquibase {
    Unclosed(String path, RootsAccessor accessor, Database database) {
      super(path, accessor, database);
    }

    @Override
    public void close() {
      // The connection belongs to the caller.
    }
  }
}
