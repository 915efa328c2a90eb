package dev.colonnade.plugin;

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
  void run(Gathered input) throws MojoExecutionException {
    required("query", query);
  }
}
