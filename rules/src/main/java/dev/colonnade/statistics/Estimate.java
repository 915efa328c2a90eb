package dev.colonnade.statistics;

/** A number and how far it can be trusted. */
public record Estimate(double value, Confidence confidence) {
  /** Rejects what is no number. */
  public Estimate {
    if (Double.isNaN(value)) {
      throw new IllegalArgumentException("an estimate is a number");
    }
  }

  /** A stated number. */
  public static Estimate declared(double value) {
    return new Estimate(value, Confidence.DECLARED);
  }

  /** A computed number. */
  public static Estimate derived(double value) {
    return new Estimate(value, Confidence.DERIVED);
  }

  /** A default. */
  public static Estimate assumed(double value) {
    return new Estimate(value, Confidence.ASSUMED);
  }

  /** The product; a computed number at best. */
  public Estimate times(Estimate other) {
    return new Estimate(
        value * other.value, confidence.weaker(other.confidence).weaker(Confidence.DERIVED));
  }

  /** The same confidence with the value kept between two bounds. */
  public Estimate clamp(double low, double high) {
    return new Estimate(Math.max(low, Math.min(high, value)), confidence);
  }
}
