package dev.colonnade.finding;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** How much a finding weighs, heaviest first. */
public enum Severity {
  /** Certain and worth stopping a build for. */
  ERROR("error"),
  /** Worth a look before the change goes on. */
  WARNING("warning"),
  /** Worth knowing. */
  NOTE("note"),
  /** The rule is not applied; no finding carries it. */
  OFF("off");

  private final String word;

  Severity(String word) {
    this.word = word;
  }

  /** The word used in configuration and files. */
  public String word() {
    return word;
  }

  /** True when this weighs as much as the other or more. */
  public boolean isAtLeast(Severity other) {
    return compareTo(other) <= 0;
  }

  /** The severity of that word in any letter case; nothing for any other text. */
  public static Optional<Severity> ofWord(String word) {
    String folded = word.strip().toLowerCase(Locale.ROOT);
    return Arrays.stream(values()).filter(value -> value.word.equals(folded)).findFirst();
  }

  @Override
  public String toString() {
    return word;
  }
}
