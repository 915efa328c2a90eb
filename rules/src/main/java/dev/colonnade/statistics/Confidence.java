package dev.colonnade.statistics;

/** How far a number can be trusted, best first. */
public enum Confidence {
  /** Stated in the statistics file, or follows from a key. */
  DECLARED("declared"),
  /** Computed from declared numbers. */
  DERIVED("derived"),
  /** A default of the trade stands in for something that nobody stated. */
  ASSUMED("assumed");

  private final String word;

  Confidence(String word) {
    this.word = word;
  }

  /** The word used in files. */
  public String word() {
    return word;
  }

  /** The weaker of the two: what a combination of two numbers deserves. */
  public Confidence weaker(Confidence other) {
    return compareTo(other) >= 0 ? this : other;
  }
}
