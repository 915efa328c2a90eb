package dev.colonnade.location;

import java.util.Comparator;

/**
 * Something in the input that was not understood: counted and listed in every report, never
 * guessed.
 *
 * @param location where it stands
 * @param reason what was not understood and why, one sentence without full stop
 */
public record NotUnderstood(SourceLocation location, String reason)
    implements Comparable<NotUnderstood> {

  @Override
  public int compareTo(NotUnderstood other) {
    return Comparator.comparing(NotUnderstood::location)
        .thenComparing(NotUnderstood::reason)
        .compare(this, other);
  }
}
