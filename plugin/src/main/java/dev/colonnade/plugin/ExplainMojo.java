package dev.colonnade.plugin;

import dev.colonnade.analysis.Analysis;
import dev.colonnade.analysis.AnalysisException;
import dev.colonnade.analysis.AnalysisInput;
import org.apache.maven.plugin.MojoExecutionException;
import org.apache.maven.plugins.annotations.Mojo;
import org.apache.maven.plugins.annotations.Parameter;
import org.apache.maven.plugins.annotations.ResolutionScope;

/**
 * Prints one query: every index that could serve it, what each would read, and a table of column
 * orders.
 */
@Mojo(name = "explain", requiresDependencyResolution = ResolutionScope.RUNTIME, threadSafe = true)
public final class ExplainMojo extends AbstractColonnadeMojo {
  /** The query's id, as {@code check} prints it. */
  @Parameter(property = "colonnade.query")
  private String query;

  @Override
  void run(AnalysisInput input, FailOn failOn) throws AnalysisException, MojoExecutionException {
    String id = required("query", query);
    Analysis.explain(Analysis.run(input), id).forEach(getLog()::info);
  }
}
