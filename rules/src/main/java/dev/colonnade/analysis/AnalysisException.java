package dev.colonnade.analysis;

/**
 * The analysis cannot go on: a malfunction or a wrong parameter, as opposed to a finding about the
 * service. The message names the place and stands alone.
 */
public final class AnalysisException extends Exception {
  /** A malfunction with a message for the user. */
  public AnalysisException(String message) {
    super(message);
  }

  /** A malfunction with what caused it. */
  public AnalysisException(String message, Throwable cause) {
    super(message, cause);
  }
}
