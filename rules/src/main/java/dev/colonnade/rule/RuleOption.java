package dev.colonnade.rule;

import java.util.Optional;
import java.util.function.Function;

/**
 * A number that a service may set for a rule.
 *
 * @param name in camel case
 * @param defaultValue the value unless configured
 * @param description what it means and its unit, without full stop
 * @param parser text to value; throws {@link NumberFormatException} for text that is none
 * @param <T> the type of the value
 */
public record RuleOption<T extends Number & Comparable<T>>(
    String name, T defaultValue, String description, Function<String, T> parser) {

  /** A whole number. */
  public static RuleOption<Long> ofLong(String name, long defaultValue, String description) {
    return new RuleOption<>(name, defaultValue, description, Long::valueOf);
  }

  /** A number. */
  public static RuleOption<Double> ofDouble(String name, double defaultValue, String description) {
    return new RuleOption<>(name, defaultValue, description, Double::valueOf);
  }

  /** The configured value, or the default where nothing is configured. */
  T read(Optional<String> configured) {
    return configured.map(text -> parser.apply(text.strip())).orElse(defaultValue);
  }
}
