package dev.colonnade.plugin;

import dev.colonnade.finding.Severity;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/** The least severity that fails the build. */
enum FailOn {
  ERROR(Optional.of(Severity.ERROR)),
  WARNING(Optional.of(Severity.WARNING)),
  NEVER(Optional.empty());

  private final Optional<Severity> threshold;

  FailOn(Optional<Severity> threshold) {
    this.threshold = threshold;
  }

  /** The value with this word, lower case as in the configuration; empty where there is none. */
  static Optional<FailOn> ofWord(String word) {
    return Stream.of(values()).filter(value -> value.word().equals(word)).findFirst();
  }

  /** True when a finding of that severity fails the build. */
  boolean includes(Severity severity) {
    return threshold.filter(severity::isAtLeast).isPresent();
  }

  /** The word in the configuration. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  @Override
  public String toString() {
    return word();
  }
}
