package dev.colonnade.published;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;

/**
 * Statistics from a short notation: {@code statistics t rows=1000 a.distinct=5 b.min=0 b.max=9}.
 */
public final class StatisticsNotation {
  private StatisticsNotation() {}

  /** The statistics of the definitions; other definitions are passed over. */
  public static Statistics read(List<String> definitions) {
    Map<Identifier, TableStatistics> tables = new HashMap<>();
    for (String definition : definitions) {
      if (definition.startsWith("statistics ")) {
        String[] words = definition.split(" ", -1);
        Map<String, String> values = new HashMap<>();
        for (int i = 2; i < words.length; i++) {
          int equals = words[i].indexOf('=');
          values.put(words[i].substring(0, equals), words[i].substring(equals + 1));
        }
        tables.put(Identifier.of(words[1]), table(values));
      }
    }
    return new Statistics(tables);
  }

  private static TableStatistics table(Map<String, String> values) {
    Set<String> names = new TreeSet<>();
    for (String key : values.keySet()) {
      int dot = key.indexOf('.');
      if (dot > 0) {
        names.add(key.substring(0, dot));
      }
    }
    Map<Identifier, ColumnStatistics> columns = new HashMap<>();
    for (String name : names) {
      columns.put(
          Identifier.of(name),
          new ColumnStatistics(
              number(values.get(name + ".distinct")),
              OptionalDouble.empty(),
              OptionalDouble.empty(),
              Optional.ofNullable(values.get(name + ".min")),
              Optional.ofNullable(values.get(name + ".max")),
              Map.of(),
              OptionalDouble.empty()));
    }
    return new TableStatistics(number(values.get("rows")), OptionalDouble.empty(), columns);
  }

  private static OptionalDouble number(String text) {
    return text == null ? OptionalDouble.empty() : OptionalDouble.of(Double.parseDouble(text));
  }
}
