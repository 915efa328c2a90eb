package dev.colonnade.schema.liquibase;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.HashMap;
import java.util.Map;
import liquibase.Contexts;
import liquibase.LabelExpression;
import liquibase.Scope;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.database.Database;
import liquibase.logging.core.NoOpLogService;
import liquibase.parser.ChangeLogParserFactory;
import liquibase.ui.LoggerUIService;

/**
 * Reads Liquibase changelogs into the schema that a database has after them. Opens no connection,
 * writes no file, and loads no class of the service under check.
 *
 * <pre>{@code
 * ChangelogResult result =
 *     ChangelogReader.read(
 *         new ChangelogInput(
 *             Dialects.postgresql(),
 *             baseDirectory,
 *             List.of(baseDirectory.resolve("src/main/resources"), baseDirectory, jar),
 *             List.of(RootChangelog.of("db/changelog/harbour.xml")),
 *             Map.of()));
 * }</pre>
 */
public final class ChangelogReader {
  private ChangelogReader() {}

  /**
   * Reads all root changelogs, one after another, as if each were run against the database that the
   * one before it left.
   *
   * @throws ChangelogException when a changelog or one that it includes is missing, broken, or
   *     includes itself
   */
  public static ChangelogResult read(ChangelogInput input) {
    Parsers.register();
    try (RootsAccessor accessor = new RootsAccessor(input.baseDirectory(), input.roots())) {
      ReadSession session = new ReadSession(accessor);
      return Scope.child(scope(session), () -> read(input, session));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (RuntimeException e) {
      throw e;
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  private static Map<String, Object> scope(ReadSession session) {
    Map<String, Object> values = new HashMap<>();
    values.put(ReadSession.SCOPE_KEY, session);
    values.put(Scope.Attr.resourceAccessor.name(), session.accessor());
    values.put(Scope.Attr.logService.name(), new NoOpLogService());
    values.put(Scope.Attr.ui.name(), new LoggerUIService());
    values.put(Scope.Attr.classLoader.name(), ChangelogReader.class.getClassLoader());
    return values;
  }

  private static ChangelogResult read(ChangelogInput input, ReadSession session) {
    Database database = OfflineDatabase.of(input.dialect().shortName());
    ChangeSetRunner runner =
        new ChangeSetRunner(
            input.dialect(),
            database,
            session,
            new PreconditionResults(input.preconditionResults()));
    for (RootChangelog root : input.changelogs()) {
      Contexts contexts = new Contexts(root.contexts().orElse(""));
      LabelExpression labels = new LabelExpression(root.labels().orElse(""));
      ChangeLogParameters parameters =
          new Parameters(input.dialect(), database, session, input.parameters());
      parameters.setContexts(contexts);
      parameters.setLabels(labels);
      runner.run(parse(root.file(), parameters, session), contexts, labels);
    }
    return runner.result();
  }

  private static DatabaseChangeLog parse(
      String file, ChangeLogParameters parameters, ReadSession session) {
    if (!session.accessor().exists(file)) {
      throw new ChangelogException(
          SourceLocation.of(RootsAccessor.normalize(file)),
          "cannot find this changelog in " + session.accessor().places());
    }
    String path = RootsAccessor.normalize(file);
    try {
      return ChangeLogParserFactory.getInstance()
          .getParser(path, session.accessor())
          .parse(path, parameters, session.accessor());
    } catch (Exception e) {
      session.fail(path, e);
      throw session.failure().orElseThrow();
    }
  }
}
