package dev.colonnade.counter;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableProfile;
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
import java.util.stream.IntStream;

/**
 * What the statistics file would state of the data: counts, shares, widths, the most common values,
 * bounds of parts of equal size, order of the rows, and the combinations of the columns of each
 * key.
 */
final class CollectedStatistics {
  private static final int COMMON = 100;
  private static final int PARTS = 100;
  private static final int STRETCHES = 100;

  private CollectedStatistics() {}

  /**
   * The statistics of the tables.
   *
   * @param dialect the database whose pages the order of the rows is seen on
   */
  static Statistics of(List<DataTable> tables, Dialect dialect) {
    Map<Identifier, TableStatistics> result = new HashMap<>();
    for (DataTable table : tables) {
      Map<Identifier, ColumnStatistics> columns = new HashMap<>();
      for (int i = 0; i < table.columns().size(); i++) {
        columns.put(Identifier.of(table.columns().get(i).name()), column(table, i));
      }
      TableStatistics known = statistics(table, columns, Map.of());
      TableProfile profile = new TableProfile(table.model(), known, dialect);
      result.put(
          Identifier.of(table.name()), statistics(table, columns, clustering(table, profile)));
    }
    return new Statistics(result);
  }

  private static TableStatistics statistics(
      DataTable table,
      Map<Identifier, ColumnStatistics> columns,
      Map<Identifier, Double> clustering) {
    return new TableStatistics(
        OptionalDouble.of(table.rows().size()),
        OptionalDouble.empty(),
        columns,
        OptionalDouble.empty(),
        groups(table),
        clustering);
  }

  /**
   * By index: where the pages of an average stretch lie between those of as many rows at random (0)
   * and those that they would fill (1). A stretch is a hundredth of the index, or the entries of
   * one key where that is more.
   */
  @SuppressWarnings({"unchecked", "rawtypes"}) // values of one column are of one comparable type
  private static Map<Identifier, Double> clustering(DataTable table, TableProfile profile) {
    Map<Identifier, Double> clustering = new HashMap<>();
    int rows = table.rows().size();
    double pages = profile.tablePages().value();
    for (List<String> key : table.keys()) {
      Comparator<Integer> order = Comparator.comparingInt(row -> 0);
      for (String column : key) {
        int position = table.position(column);
        order =
            order.thenComparing(
                row -> (Comparable) table.rows().get(row)[position],
                Comparator.nullsLast(Comparator.naturalOrder()));
      }
      List<Integer> entries = IntStream.range(0, rows).boxed().sorted(order).toList();
      double random = 0;
      double together = 0;
      double counted = 0;
      int start = 0;
      while (start < rows) {
        int end = Math.min(rows, start + Math.max(1, rows / STRETCHES));
        while (end < rows && order.compare(entries.get(end - 1), entries.get(end)) == 0) {
          end++;
        }
        counted +=
            entries.subList(start, end).stream()
                .mapToInt(row -> (int) (row * pages / rows))
                .distinct()
                .count();
        random += profile.pagesVisited(end - start, 0);
        together += profile.pagesVisited(end - start, 1);
        start = end;
      }
      double share = random <= together ? 0 : (random - counted) / (random - together);
      clustering.put(
          Identifier.of(table.indexName(key)), Math.sqrt(Math.max(0, Math.min(1, share))));
    }
    return clustering;
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
