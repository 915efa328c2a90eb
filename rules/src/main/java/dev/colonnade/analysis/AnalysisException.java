package dev.colonnade.analysis;

/**
 * The analysis cannot go on: a malfunction or a wrong parameter, as opposed to a finding about the
 * service. The message names the place and stands alone.
 */
public final class AnalysisException extends Exception {
  private final boolean aboutParameter;

  /** A malfunction with a message for the user. */
  public AnalysisException(String message) {
    this(message, false);
  }

  private AnalysisException(String message, boolean aboutParameter) {
    super(message);
    this.aboutParameter = aboutParameter;
  }

  /** A parameter whose value makes no sense; the message starts with its name. */
  static AnalysisException ofParameter(String name, String trouble) {
    return new AnalysisException(name + ": " + trouble, true);
  }

  /** A malfunction with what caused it. */
  public AnalysisException(String message, Throwable cause) {
    super(message, cause);
    this.aboutParameter = false;
  }

  /** True when a parameter is wrong, so that its place is where the parameters are written. */
  public boolean isAboutParameter() {
    return aboutParameter;
  }
}
