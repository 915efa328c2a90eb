package dev.colonnade.plugin;

import dev.colonnade.analysis.Analysis;
import dev.colonnade.analysis.AnalysisException;
import dev.colonnade.analysis.AnalysisInput;
import dev.colonnade.analysis.AnalysisResult;
import org.apache.maven.plugin.MojoFailureException;
import org.apache.maven.plugins.annotations.LifecyclePhase;
import org.apache.maven.plugins.annotations.Mojo;
import org.apache.maven.plugins.annotations.ResolutionScope;

/**
 * Reads changelogs and queries, works out every access path, applies the rules, writes the files
 * and fails, warns or passes the build.
 */
@Mojo(
    name = "check",
    defaultPhase = LifecyclePhase.VERIFY,
    requiresDependencyResolution = ResolutionScope.RUNTIME,
    threadSafe = true)
public final class CheckMojo extends AbstractColonnadeMojo {
  @Override
  void run(AnalysisInput input, FailOn failOn) throws AnalysisException, MojoFailureException {
    AnalysisResult result = Analysis.run(input);
    Analysis.writeReports(result, input);
    Analysis.summary(result).forEach(getLog()::info);
    getLog().info("Files: " + input.outputDirectory());
    long failing =
        result.report().findings().stream()
            .filter(finding -> failOn.includes(finding.severity()))
            .count();
    if (failing > 0) {
      throw new MojoFailureException(
          "findings at or above " + failOn.word() + ": " + failing + "; see the list above");
    }
  }
}
