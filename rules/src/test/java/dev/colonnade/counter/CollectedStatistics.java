package dev.colonnade.counter;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * What the statistics file would state of the data: counts, shares, widths, the most common values,
 * bounds of parts of equal size, order of the rows, and the combinations of the columns of each
 * key.
 */
final class CollectedStatistics {
  private static final int COMMON = 100;
  private static final int PARTS = 100;

  private CollectedStatistics() {}

  static Statistics of(List<DataTable> tables) {
    Map<Identifier, TableStatistics> result = new HashMap<>();
    for (DataTable table : tables) {
      Map<Identifier, ColumnStatistics> columns = new HashMap<>();
      for (int i = 0; i < table.columns().size(); i++) {
        columns.put(Identifier.of(table.columns().get(i).name()), column(table, i));
      }
      result.put(
          Identifier.of(table.name()),
          new TableStatistics(
              OptionalDouble.of(table.rows().size()),
              OptionalDouble.empty(),
              columns,
              OptionalDouble.empty(),
              groups(table),
              Map.of()));
    }
    return new Statistics(result);
  }

  private static Map<Set<Identifier>, Double> groups(DataTable table) {
    Map<Set<Identifier>, Double> groups = new HashMap<>();
    for (List<String> key : table.keys()) {
      for (int length = 2; length <= key.size(); length++) {
        List<String> columns = key.subList(0, length);
        Set<List<Object>> combinations = new HashSet<>();
        for (Object[] row : table.rows()) {
          combinations.add(
              new ArrayList<>(columns.stream().map(it -> row[table.position(it)]).toList()));
        }
        Set<Identifier> names = new HashSet<>();
        columns.forEach(it -> names.add(Identifier.of(it)));
        groups.put(names, (double) combinations.size());
      }
    }
    return groups;
  }

  @SuppressWarnings({"unchecked", "rawtypes"}) // values of one column are of one comparable type
  private static ColumnStatistics column(DataTable table, int position) {
    List<Comparable> values = new ArrayList<>();
    for (Object[] row : table.rows()) {
      if (row[position] != null) {
        values.add((Comparable) row[position]);
      }
    }
    Map<Comparable, Integer> counts = new HashMap<>();
    values.forEach(value -> counts.merge(value, 1, Integer::sum));
    double rows = Math.max(1, table.rows().size());
    double average = (double) values.size() / Math.max(1, counts.size());
    Map<String, Double> common = new LinkedHashMap<>();
    List<Map.Entry<Comparable, Integer>> sorted = new ArrayList<>(counts.entrySet());
    Comparator<Map.Entry<Comparable, Integer>> often =
        Comparator.comparingInt(entry -> -entry.getValue());
    sorted.sort(often.thenComparing(Map.Entry::getKey));
    Set<Comparable> named = new HashSet<>();
    for (Map.Entry<Comparable, Integer> entry :
        sorted.subList(0, Math.min(COMMON, sorted.size()))) {
      if (counts.size() <= COMMON || entry.getValue() > 1.25 * average) {
        common.put(entry.getKey().toString(), entry.getValue() / rows);
        named.add(entry.getKey());
      }
    }
    Comparable[] rest =
        values.stream().filter(it -> !named.contains(it)).toArray(Comparable[]::new);
    Arrays.sort(rest);
    List<String> bounds = new ArrayList<>();
    if (rest.length > 1) {
      int parts = Math.min(PARTS, rest.length - 1);
      for (int i = 0; i <= parts; i++) {
        bounds.add(rest[(int) ((long) i * (rest.length - 1) / parts)].toString());
      }
    }
    boolean text = table.columns().get(position).family() == TypeFamily.TEXT;
    OptionalDouble width =
        text
            ? values.stream().mapToInt(it -> it.toString().length()).average()
            : OptionalDouble.empty();
    Optional<String> minimum = values.stream().min(Comparator.naturalOrder()).map(Object::toString);
    Optional<String> maximum = values.stream().max(Comparator.naturalOrder()).map(Object::toString);
    return new ColumnStatistics(
        OptionalDouble.of(counts.size()),
        OptionalDouble.of((rows - values.size()) / rows),
        width,
        minimum,
        maximum,
        common,
        OptionalDouble.of(correlation(values)),
        bounds);
  }

  /** Pearson's coefficient of place in the table and place in the order of the values. */
  @SuppressWarnings({"unchecked", "rawtypes"}) // values of one column are of one comparable type
  private static double correlation(List<Comparable> values) {
    Integer[] order = new Integer[values.size()];
    Arrays.setAll(order, i -> i);
    Arrays.sort(order, Comparator.comparing(values::get));
    double n = order.length;
    if (n < 2) {
      return 0;
    }
    double sum = 0;
    for (int rank = 0; rank < order.length; rank++) {
      sum += (double) rank * order[rank];
    }
    double mean = (n - 1) / 2;
    double variance = (n * n - 1) / 12;
    return Math.max(-1, Math.min(1, (sum / n - mean * mean) / variance));
  }
}
