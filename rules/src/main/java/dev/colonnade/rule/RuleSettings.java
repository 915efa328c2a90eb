package dev.colonnade.rule;

import dev.colonnade.finding.Severity;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * What a service configures about the rules.
 *
 * @param severities severity by rule id or alias
 * @param options value by option name, by rule id or alias
 */
public record RuleSettings(
    Map<String, Severity> severities, Map<String, Map<String, String>> options) {
  /** Nothing is configured. */
  public static final RuleSettings DEFAULT = new RuleSettings(Map.of(), Map.of());

  /** Copies the maps. */
  public RuleSettings {
    severities = Map.copyOf(severities);
    options =
        options.entrySet().stream()
            .collect(
                Collectors.toUnmodifiableMap(Map.Entry::getKey, e -> Map.copyOf(e.getValue())));
  }

  /** The settings with one option set. */
  public RuleSettings withOption(String rule, String option, String value) {
    Map<String, Map<String, String>> changed = new TreeMap<>(options);
    Map<String, String> values = new TreeMap<>(changed.getOrDefault(rule, Map.of()));
    values.put(option, value);
    changed.put(rule, values);
    return new RuleSettings(severities, changed);
  }

  /** The settings with one severity set. */
  public RuleSettings withSeverity(String rule, Severity severity) {
    Map<String, Severity> changed = new TreeMap<>(severities);
    changed.put(rule, severity);
    return new RuleSettings(changed, options);
  }

  /** The severity of a rule's findings. */
  public Severity severity(RuleMetadata rule) {
    return find(severities, rule).orElse(rule.severity());
  }

  /** The value of a rule's option. */
  public <T extends Number & Comparable<T>> T option(RuleMetadata rule, RuleOption<T> option) {
    return option.read(find(options, rule).map(values -> values.get(option.name())));
  }

  /**
   * What is wrong with the settings: rules and options that do not exist, values that are no
   * numbers. One line each; empty when all is well.
   */
  public List<String> problems(Collection<RuleMetadata> rules) {
    List<String> problems = new ArrayList<>();
    String known = rules.stream().map(RuleMetadata::id).sorted().collect(Collectors.joining(", "));
    severities.keySet().stream()
        .filter(id -> named(rules, id).isEmpty())
        .forEach(id -> problems.add("there is no rule '" + id + "'; there are: " + known));
    options.forEach(
        (id, values) ->
            named(rules, id)
                .ifPresentOrElse(
                    rule -> values.forEach((name, value) -> check(problems, rule, name, value)),
                    () -> problems.add("there is no rule '" + id + "'; there are: " + known)));
    problems.sort(Comparator.naturalOrder());
    return problems;
  }

  private static void check(List<String> problems, RuleMetadata rule, String name, String value) {
    Optional<RuleOption<?>> option =
        rule.options().stream().filter(candidate -> candidate.name().equals(name)).findFirst();
    if (option.isEmpty()) {
      problems.add("rule '" + rule.id() + "' has no option '" + name + "'");
      return;
    }
    try {
      option.get().read(Optional.of(value));
    } catch (NumberFormatException e) {
      problems.add("option '" + name + "' of rule '" + rule.id() + "' is no number: " + value);
    }
  }

  private static Optional<RuleMetadata> named(Collection<RuleMetadata> rules, String id) {
    return rules.stream()
        .filter(rule -> rule.id().equals(id) || rule.aliases().contains(id))
        .findFirst();
  }

  private static <V> Optional<V> find(Map<String, V> values, RuleMetadata rule) {
    if (values.containsKey(rule.id())) {
      return Optional.of(values.get(rule.id()));
    }
    return rule.aliases().stream().filter(values::containsKey).map(values::get).findFirst();
  }
}
