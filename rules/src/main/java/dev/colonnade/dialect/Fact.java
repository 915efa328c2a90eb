package dev.colonnade.dialect;

/**
 * One fact about a database and where it comes from.
 *
 * @param value the fact
 * @param source manual page, header file or observation; {@code from memory} where unconfirmed
 * @param <T> what kind of fact
 */
public record Fact<T>(T value, String source) {
  /** A fact with its source. */
  public static <T> Fact<T> of(T value, String source) {
    return new Fact<>(value, source);
  }
}
