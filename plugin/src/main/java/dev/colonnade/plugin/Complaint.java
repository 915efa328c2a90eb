package dev.colonnade.plugin;

import java.nio.file.Path;
import org.apache.maven.plugin.MojoExecutionException;

/**
 * Words what is wrong with a parameter: the place, the parameter, the trouble, on one line.
 *
 * @param pom where the parameters are set, or would be
 */
record Complaint(Path pom) {
  /** The exception that stops the build as a malfunction, not as a violation. */
  MojoExecutionException about(String parameter, String trouble) {
    return new MojoExecutionException(pom + ": " + parameter + ": " + trouble);
  }
}
