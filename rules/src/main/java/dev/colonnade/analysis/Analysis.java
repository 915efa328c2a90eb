package dev.colonnade.analysis;

import java.util.List;

/** The one road from the files of a service to what is said about it. */
public final class Analysis {
  private Analysis() {}

  /**
   * Reads changelogs and queries, works out every access path and applies the rules. Writes
   * nothing.
   *
   * @throws AnalysisException when the input cannot be read; a single query or change that is not
   *     understood is an entry of the coverage instead
   */
  @SuppressWarnings("DoNotCallSuggester") // the parts are not wired yet
  public static AnalysisResult run(AnalysisInput input) throws AnalysisException {
    throw new AnalysisException("the analysis is not wired yet: " + input.database());
  }

  /**
   * Writes every report into the output directory of the input. When one cannot be written, all
   * files of an earlier run stay as they are.
   *
   * @throws AnalysisException when a file cannot be written
   */
  @SuppressWarnings("DoNotCallSuggester") // the parts are not wired yet
  public static void writeReports(AnalysisResult result, AnalysisInput input)
      throws AnalysisException {
    throw new AnalysisException(
        "cannot write " + result.report().dialect() + " to " + input.outputDirectory());
  }

  /** The summary for the console, line by line. */
  public static List<String> summary(AnalysisResult result) {
    return List.of("queries: " + result.report().queries().size());
  }

  /**
   * One query explained, line by line.
   *
   * @throws AnalysisException when no query has that id; the message names the closest ones
   */
  @SuppressWarnings("DoNotCallSuggester") // the parts are not wired yet
  public static List<String> explain(AnalysisResult result, String queryId)
      throws AnalysisException {
    throw new AnalysisException("no query " + queryId + " in " + result.report().dialect());
  }
}
