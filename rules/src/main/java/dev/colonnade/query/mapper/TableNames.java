package dev.colonnade.query.mapper;

import java.util.Collection;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * The names of the schema's tables, and what they tell of names that are put together when the
 * service runs: {@code ${prefix}BERTH} and {@code ${schema}.BERTH}.
 */
public final class TableNames {
  /** No table is known. */
  public static final TableNames NONE = new TableNames(Set.of());

  private static final String PART = "\\$\\{\\s*([\\w.]+)\\s*}";

  private static final String REST = "([A-Za-z_]\\w*)(?![\\w${])";

  /** A table's name that starts with something unknown. */
  private static final Pattern STARTED =
      Pattern.compile("\\b(?:from|join|into|update)\\s+" + PART + REST, Pattern.CASE_INSENSITIVE);

  /** A name with something unknown and a point in front of it. */
  private static final Pattern QUALIFIED = Pattern.compile("(?<![\\w.}])" + PART + "\\." + REST);

  private final Set<String> names;

  /** Names, in whatever case. */
  public TableNames(Collection<String> names) {
    this.names = names.stream().map(TableNames::folded).collect(Collectors.toUnmodifiableSet());
  }

  private static String folded(String name) {
    return name.toLowerCase(Locale.ROOT);
  }

  /**
   * A value that is taken for a part of names of which the configuration says nothing.
   *
   * @param value what stands for it
   * @param fitting how many names it makes names of tables
   * @param all how many names start with it
   */
  record Guess(String value, int fitting, int all) {
    String told(String part) {
      return MapperReader.OPEN_PART
          + "${"
          + part
          + "} is not known: it is taken for "
          + (value.isEmpty() ? "nothing" : "'" + value + "'")
          + ", which makes tables of the schema of "
          + fitting
          + " of the "
          + all
          + " names behind it";
    }
  }

  /** For each part of names, the value that makes names of tables of more than half of them. */
  Map<String, Guess> guesses(Collection<String> texts, Set<String> known) {
    Map<String, Set<String>> rests = new TreeMap<>();
    for (String text : texts) {
      Matcher started = STARTED.matcher(text);
      while (started.find()) {
        if (!known.contains(started.group(1))) {
          rests
              .computeIfAbsent(started.group(1), it -> new TreeSet<>())
              .add(folded(started.group(2)));
        }
      }
    }
    Map<String, Guess> guesses = new TreeMap<>();
    rests.forEach((part, of) -> guess(of).ifPresent(guess -> guesses.put(part, guess)));
    return guesses;
  }

  private Optional<Guess> guess(Set<String> rests) {
    Map<String, Integer> fitting = new HashMap<>();
    for (String rest : rests) {
      for (String name : names) {
        if (name.endsWith(rest)) {
          fitting.merge(name.substring(0, name.length() - rest.length()), 1, Integer::sum);
        }
      }
    }
    String best = null;
    for (Map.Entry<String, Integer> entry : new TreeMap<>(fitting).entrySet()) {
      if (best == null || entry.getValue() > fitting.get(best)) {
        best = entry.getKey();
      }
    }
    return best == null || fitting.get(best) * 2 <= rests.size()
        ? Optional.empty()
        : Optional.of(new Guess(best, fitting.get(best), rests.size()));
  }

  /** The text with every table of the schema named without the schema that nobody knows. */
  String withoutUnknownSchema(String sql) {
    return sql.contains("${")
        ? QUALIFIED
            .matcher(sql)
            .replaceAll(
                match ->
                    Matcher.quoteReplacement(
                        names.contains(folded(match.group(2))) ? match.group(2) : match.group()))
        : sql;
  }
}
