package dev.colonnade.plugin;

import dev.colonnade.analysis.AnalysisException;
import dev.colonnade.analysis.AnalysisInput;
import dev.colonnade.measure.Measure;
import dev.colonnade.measure.MeasureException;
import dev.colonnade.measure.MeasureOptions;
import java.util.List;
import java.util.Optional;
import javax.inject.Inject;
import org.apache.maven.plugin.MojoExecutionException;
import org.apache.maven.plugins.annotations.Mojo;
import org.apache.maven.plugins.annotations.Parameter;
import org.apache.maven.plugins.annotations.ResolutionScope;
import org.eclipse.aether.RepositorySystem;
import org.eclipse.aether.RepositorySystemSession;
import org.eclipse.aether.repository.RemoteRepository;

/**
 * Applies the changelog to a real database, an embedded one or one given by its JDBC address, fills
 * the tables with rows generated from the statistics file, asks its planner about every query, and
 * reports where planner and prediction differ.
 */
@Mojo(name = "measure", requiresDependencyResolution = ResolutionScope.RUNTIME, threadSafe = true)
public final class MeasureMojo extends AbstractColonnadeMojo {
  @Inject private RepositorySystem repositorySystem;

  @Parameter(defaultValue = "${repositorySystemSession}", readonly = true, required = true)
  private RepositorySystemSession session;

  @Parameter(defaultValue = "${project.remoteProjectRepositories}", readonly = true)
  private List<RemoteRepository> repositories;

  /**
   * The JDBC address of a database to measure on. Never a production one: the changelog is run
   * there and its tables are filled. Default: a database that is started for the measurement.
   */
  @Parameter(property = "colonnade.measureUrl")
  private String measureUrl;

  /** The user of that database. */
  @Parameter(property = "colonnade.measureUser")
  private String measureUser;

  /** The password of that database. */
  @Parameter(property = "colonnade.measurePassword")
  private String measurePassword;

  /** Says that nobody needs the database at {@code measureUrl}. */
  @Parameter(property = "colonnade.measureConfirmed", defaultValue = "false")
  private boolean measureConfirmed;

  /** The most rows put into a table. */
  @Parameter(property = "colonnade.measureRows", defaultValue = "10000")
  private int measureRows;

  @Override
  void run(AnalysisInput input, FailOn failOn) throws AnalysisException, MojoExecutionException {
    MeasureOptions options =
        new MeasureOptions(
            given(measureUrl),
            given(measureUser),
            given(measurePassword),
            measureConfirmed,
            measureRows);
    try {
      Measure.run(input, options, new DatabaseLibraries(repositorySystem, session, repositories))
          .forEach(getLog()::info);
    } catch (MeasureException e) {
      throw new MojoExecutionException(e.getMessage(), e);
    }
  }

  private static Optional<String> given(String value) {
    return Optional.ofNullable(value).filter(text -> !text.isBlank());
  }
}
