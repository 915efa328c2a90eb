package dev.colonnade.measure;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.analysis.Analysis;
import dev.colonnade.analysis.AnalysisException;
import dev.colonnade.analysis.AnalysisInput;
import dev.colonnade.analysis.AnalysisResult;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogException;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.LiveUpdate;
import dev.colonnade.statistics.Statistics;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Applies the changelog of a service to a real database, fills its tables, asks its planner about
 * every analysed query and writes where that differs from the prediction.
 */
public final class Measure {
  private Measure() {}

  /** Makes the class loader that holds driver and server of a database, by its short name. */
  public interface Libraries {
    /**
     * The class loader.
     *
     * @param embedded true when the server is wanted, too
     * @throws MeasureException when they cannot be had
     */
    ClassLoader of(String database, boolean embedded) throws MeasureException;
  }

  /**
   * Measures and writes {@code measure.md} into the output directory.
   *
   * @return lines for the console
   * @throws MeasureException when the database given was not confirmed, or cannot be had or changed
   */
  public static List<String> run(AnalysisInput input, MeasureOptions options, Libraries libraries)
      throws AnalysisException, MeasureException {
    MeasuredDatabase database = database(input);
    if (options.url().isPresent() && !options.confirmed()) {
      throw new MeasureException(
          "measure changes the database at the given address: it runs the changelog there and fills"
              + " the tables. Never give it a production database, nor one that anybody needs. If"
              + " this is neither, say so with -Dcolonnade.measureConfirmed");
    }
    AnalysisResult analysed = Analysis.run(input);
    ClassLoader loader = libraries.of(database.shortName(), options.url().isEmpty());
    Measurement measurement;
    try (RunningDatabase running =
        options.url().isPresent()
            ? RunningDatabase.at(loader, options)
            : RunningDatabase.embedded(loader, database)) {
      measurement = measure(input, analysed, running.connection(), database, options.rowCap());
    } catch (SQLException e) {
      throw new MeasureException("the database refuses: " + e.getMessage(), e);
    }
    Path page = input.outputDirectory().resolve("measure.md");
    try {
      Files.createDirectories(input.outputDirectory());
      Files.writeString(page, MeasurePage.text(measurement));
    } catch (IOException e) {
      throw new MeasureException("measure.md cannot be written: " + e.getMessage(), e);
    }
    List<String> lines = new ArrayList<>();
    lines.add(MeasurePage.summary(measurement));
    for (MeasuredQuery query : measurement.queries()) {
      for (Difference difference : query.differences()) {
        lines.add(query.predicted().query().text().id() + ": " + difference.text());
      }
    }
    return lines;
  }

  private static MeasuredDatabase database(AnalysisInput input) throws MeasureException {
    return MeasuredDatabase.of(input.database())
        .orElseThrow(
            () ->
                new MeasureException(
                    "measure asks "
                        + Arrays.stream(MeasuredDatabase.values())
                            .map(MeasuredDatabase::shortName)
                            .sorted()
                            .collect(Collectors.joining(", "))
                        + ", not '"
                        + input.database()
                        + "'"));
  }

  private static Measurement measure(
      AnalysisInput input,
      AnalysisResult analysed,
      Connection connection,
      MeasuredDatabase database,
      int rowCap)
      throws SQLException, MeasureException {
    update(input, connection);
    List<NotUnderstood> skipped =
        new ArrayList<>(analysed.report().coverage().changesNotUnderstood());
    connection.setAutoCommit(true);
    Schema schema = analysed.analyzer().schema();
    Statistics statistics = analysed.analyzer().statistics();
    skipped.addAll(new Loader(connection, database, schema, statistics, rowCap).load());
    Statistics counted = new CountedRows(connection, statistics).count(schema);
    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(schema, analysed.analyzer().dialect(), counted);
    List<MeasuredQuery> queries = new ArrayList<>();
    for (QueryAccess access : analysed.report().queries()) {
      QueryText text = access.query().text();
      Parameters parameters = Parameters.of(text.sql(), database, schema, statistics);
      try {
        PlannedReads reads = database.reads(connection, parameters.sql(), parameters.values());
        QueryAccess predicted = analyzer.analyze(access.query());
        queries.add(
            new MeasuredQuery(
                predicted,
                database.plan(connection, parameters.sql(), parameters.values()),
                new PlanComparison(analyzer, predicted).differences(reads)));
      } catch (SQLException e) {
        String reason = String.valueOf(e.getMessage()).lines().findFirst().orElse("");
        skipped.add(
            new NotUnderstood(
                text.location(), "query " + text.id() + ": the planner refuses: " + reason));
      }
    }
    String name =
        connection.getMetaData().getDatabaseProductName()
            + " "
            + connection.getMetaData().getDatabaseProductVersion();
    return new Measurement(name, queries, skipped);
  }

  private static void update(AnalysisInput input, Connection connection) throws MeasureException {
    try {
      LiveUpdate.apply(
          new ChangelogInput(
              Dialects.byShortName(input.database()).orElseThrow(),
              input.baseDirectory(),
              input.changelogSearchRoots(),
              input.changelogs().stream()
                  .map(root -> new RootChangelog(root.file(), root.contexts(), root.labels()))
                  .toList(),
              input.changelogParameters(),
              input.preconditionResults()),
          connection);
    } catch (ChangelogException | SQLException e) {
      throw new MeasureException("the update fails: " + e.getMessage(), e);
    }
  }
}
