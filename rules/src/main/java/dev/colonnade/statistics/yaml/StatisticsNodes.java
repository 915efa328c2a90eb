package dev.colonnade.statistics.yaml;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import dev.colonnade.statistics.yaml.StatisticsFile.StatedName;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;
import org.yaml.snakeyaml.nodes.Tag;

/** Takes statistics out of the node tree of a file, which still knows every line. */
final class StatisticsNodes {
  private static final String FORMAT_VERSION = "1";
  private static final Pattern NUMBER =
      Pattern.compile("[-+]?\\d[\\d_]*(\\.\\d*)?([eE][-+]?\\d+)?");

  /** Shares in a file are rounded: their sum may exceed 1 by this much. */
  private static final double ROUNDING = 0.01;

  private static final Set<String> FILE_KEYS = Set.of("formatVersion", "tables");
  private static final Set<String> TABLE_KEYS =
      Set.of("rows", "rowWidth", "columns", "groups", "indexes");
  private static final Set<String> GROUP_KEYS = Set.of("columns", "distinct");
  private static final Set<String> INDEX_KEYS = Set.of("clustering");
  private static final Set<String> COLUMN_KEYS =
      Set.of(
          "distinct",
          "nullFraction",
          "averageWidth",
          "minimum",
          "maximum",
          "correlation",
          "commonValues",
          "bounds");

  private final String file;
  private final List<NotUnderstood> problems = new ArrayList<>();
  private final List<StatedName> names = new ArrayList<>();

  StatisticsNodes(String file) {
    this.file = file;
  }

  StatisticsFile read(Node root) throws StatisticsFileException {
    Map<String, Node> entries = root == null ? Map.of() : known(root, "the file", FILE_KEYS);
    Node version = entries.get("formatVersion");
    if (version == null) {
      problems.add(
          new NotUnderstood(SourceLocation.of(file), "formatVersion is missing, 1 is assumed"));
    } else if (!text(version).equals(Optional.of(FORMAT_VERSION))) {
      throw new StatisticsFileException(
          location(version), "formatVersion is not 1, the only one that is known", null);
    }
    Map<Identifier, TableStatistics> tables = new LinkedHashMap<>();
    named(entries.get("tables"), "tables")
        .forEach(
            (table, node) -> {
              names.add(new StatedName(table, Optional.empty(), location(node.getKeyNode())));
              tables.put(table, table(table, node.getValueNode()));
            });
    return new StatisticsFile(new Statistics(tables), problems, names);
  }

  private TableStatistics table(Identifier table, Node node) {
    Map<String, Node> entries = known(node, "table " + table, TABLE_KEYS);
    Map<Identifier, ColumnStatistics> columns = new LinkedHashMap<>();
    named(entries.get("columns"), "columns of " + table)
        .forEach(
            (column, tuple) -> {
              names.add(new StatedName(table, Optional.of(column), location(tuple.getKeyNode())));
              columns.put(column, column(table + "." + column, tuple.getValueNode()));
            });
    return new TableStatistics(
        number(entries, "rows", 0, Double.MAX_VALUE),
        number(entries, "rowWidth", 1, Double.MAX_VALUE),
        columns,
        OptionalDouble.empty(),
        groups(table, entries.get("groups")),
        clustering(table, entries.get("indexes")));
  }

  private ColumnStatistics column(String column, Node node) {
    Map<String, Node> entries = known(node, "column " + column, COLUMN_KEYS);
    return new ColumnStatistics(
        number(entries, "distinct", 0, Double.MAX_VALUE),
        number(entries, "nullFraction", 0, 1),
        number(entries, "averageWidth", 0, Double.MAX_VALUE),
        value(entries, "minimum"),
        value(entries, "maximum"),
        commonValues(entries.get("commonValues")),
        number(entries, "correlation", -1, 1),
        bounds(entries.get("bounds")));
  }

  /** Columns that depend on each other: each group a list of names with their combinations. */
  private Map<Set<Identifier>, Double> groups(Identifier table, Node node) {
    Map<Set<Identifier>, Double> groups = new LinkedHashMap<>();
    for (Node element : elements(node, "groups of " + table)) {
      Map<String, Node> entries = known(element, "a group of " + table, GROUP_KEYS);
      Set<Identifier> columns = new LinkedHashSet<>();
      for (Node name : elements(entries.get("columns"), "columns of a group of " + table)) {
        Optional<String> column = text(name).filter(it -> !it.isBlank());
        if (column.isEmpty()) {
          problem(name, "a column of a group of " + table + " is no name");
          continue;
        }
        columns.add(Identifier.of(column.get()));
        names.add(new StatedName(table, Optional.of(Identifier.of(column.get())), location(name)));
      }
      OptionalDouble distinct = number(entries, "distinct", 1, Double.MAX_VALUE);
      if (columns.size() < 2 || distinct.isEmpty()) {
        problem(element, "a group of " + table + " needs two columns at least, and distinct");
      } else if (groups.putIfAbsent(columns, distinct.getAsDouble()) != null) {
        problem(element, "a group of " + table + " is stated twice");
      }
    }
    return groups;
  }

  private Map<Identifier, Double> clustering(Identifier table, Node node) {
    Map<Identifier, Double> result = new LinkedHashMap<>();
    named(node, "indexes of " + table)
        .forEach(
            (index, tuple) ->
                number(
                        known(tuple.getValueNode(), "index " + index, INDEX_KEYS),
                        "clustering",
                        -1,
                        1)
                    .ifPresent(share -> result.put(index, share)));
    return result;
  }

  private List<String> bounds(Node node) {
    List<String> values = new ArrayList<>();
    for (Node element : elements(node, "bounds")) {
      Optional<String> value = text(element);
      if (value.isEmpty()) {
        problem(element, "a bound is neither text nor number");
        return List.of();
      }
      values.add(value.get());
    }
    if (values.size() == 1) {
      problem(node, "bounds need two values at least");
      return List.of();
    }
    return values;
  }

  private List<Node> elements(Node node, String what) {
    if (node == null || isNull(node)) {
      return List.of();
    }
    if (node instanceof SequenceNode sequence) {
      return sequence.getValue();
    }
    problem(node, what + " must be a list");
    return List.of();
  }

  private Map<String, Double> commonValues(Node node) {
    Map<String, Double> shares = new TreeMap<>();
    for (NodeTuple tuple : tuples(node, "commonValues")) {
      Optional<String> value = text(tuple.getKeyNode());
      if (value.isEmpty()) {
        problem(tuple.getKeyNode(), "a common value is neither text nor number");
        continue;
      }
      OptionalDouble share =
          number(tuple.getValueNode(), "share of common value " + value.get(), 0, 1);
      if (share.isPresent() && shares.putIfAbsent(value.get(), share.getAsDouble()) != null) {
        problem(tuple.getKeyNode(), "common value " + value.get() + " is stated twice");
      }
    }
    if (shares.values().stream().mapToDouble(Double::doubleValue).sum() > 1 + ROUNDING) {
      problem(node, "the shares of commonValues add up to more than 1");
      return Map.of();
    }
    return shares;
  }

  /** The entries of a mapping with the given keys; others are problems. */
  private Map<String, Node> known(Node node, String what, Set<String> keys) {
    Map<String, Node> result = new TreeMap<>();
    for (NodeTuple tuple : tuples(node, what)) {
      String key = text(tuple.getKeyNode()).orElse("");
      if (!keys.contains(key)) {
        problem(
            tuple.getKeyNode(),
            "unknown key '"
                + key
                + "' in "
                + what
                + ", known are "
                + String.join(", ", new TreeSet<>(keys)));
      } else if (result.putIfAbsent(key, tuple.getValueNode()) != null) {
        problem(tuple.getKeyNode(), key + " is stated twice in " + what);
      }
    }
    return result;
  }

  /** The entries of a mapping whose keys are names of tables or columns. */
  private Map<Identifier, NodeTuple> named(Node node, String what) {
    Map<Identifier, NodeTuple> result = new LinkedHashMap<>();
    for (NodeTuple tuple : tuples(node, what)) {
      Optional<String> name = text(tuple.getKeyNode()).filter(it -> !it.isBlank());
      if (name.isEmpty()) {
        problem(tuple.getKeyNode(), "a key in " + what + " is no name");
      } else if (result.putIfAbsent(Identifier.of(name.get()), tuple) != null) {
        problem(tuple.getKeyNode(), name.get() + " is stated twice in " + what);
      }
    }
    return result;
  }

  private List<NodeTuple> tuples(Node node, String what) {
    if (node == null || isNull(node)) {
      return List.of();
    }
    if (node instanceof MappingNode mapping) {
      return mapping.getValue();
    }
    problem(node, what + " must be a mapping of keys to values");
    return List.of();
  }

  private OptionalDouble number(Map<String, Node> entries, String key, double low, double high) {
    Node node = entries.get(key);
    return node == null || isNull(node) ? OptionalDouble.empty() : number(node, key, low, high);
  }

  private OptionalDouble number(Node node, String what, double low, double high) {
    if (!(node instanceof ScalarNode scalar)
        || !scalar.isPlain()
        || !NUMBER.matcher(scalar.getValue()).matches()) {
      problem(node, what + " must be a number");
      return OptionalDouble.empty();
    }
    double value = Double.parseDouble(scalar.getValue().replace("_", ""));
    if (value < low || value > high) {
      problem(
          node,
          what
              + " must be "
              + (high == Double.MAX_VALUE
                  ? "at least " + (long) low
                  : "between " + (long) low + " and " + (long) high)
              + ", not "
              + scalar.getValue());
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(value);
  }

  private Optional<String> value(Map<String, Node> entries, String key) {
    Node node = entries.get(key);
    if (node == null || isNull(node)) {
      return Optional.empty();
    }
    Optional<String> text = text(node);
    if (text.isEmpty()) {
      problem(node, key + " must be text or a number");
    }
    return text;
  }

  private static Optional<String> text(Node node) {
    return node instanceof ScalarNode scalar && !isNull(node)
        ? Optional.of(scalar.getValue())
        : Optional.empty();
  }

  private static boolean isNull(Node node) {
    return node.getTag().equals(Tag.NULL);
  }

  private void problem(Node node, String reason) {
    problems.add(new NotUnderstood(location(node), reason));
  }

  private SourceLocation location(Node node) {
    return new SourceLocation(
        file,
        node.getStartMark().getLine() + 1,
        node.getStartMark().getColumn() + 1,
        Optional.empty());
  }
}
