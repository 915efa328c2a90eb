package dev.colonnade.plugin;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/** The least severity that fails the build. */
enum FailOn {
  ERROR,
  WARNING,
  NEVER;

  /** The value with this word, lower case as in the configuration; empty where there is none. */
  static Optional<FailOn> ofWord(String word) {
    return Stream.of(values()).filter(value -> value.word().equals(word)).findFirst();
  }

  /** The word in the configuration. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
