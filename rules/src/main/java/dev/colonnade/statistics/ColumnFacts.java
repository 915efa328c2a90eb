package dev.colonnade.statistics;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** What is known of single values of one table: how many there are, and how common each is. */
final class ColumnFacts {
  private final Table table;
  private final TableStatistics statistics;
  private final Estimate rows;
  private final List<Set<Identifier>> keys;

  ColumnFacts(Table table, TableStatistics statistics) {
    this.table = table;
    this.statistics = statistics;
    this.rows = RowCount.of(statistics);
    this.keys = keys(table);
  }

  /** The sets of columns of which no two rows hold the same values. */
  private static List<Set<Identifier>> keys(Table table) {
    List<Set<Identifier>> keys = new ArrayList<>();
    if (!table.primaryKey().isEmpty()) {
      keys.add(new LinkedHashSet<>(table.primaryKey()));
    }
    for (Index index : table.indexes()) {
      boolean plain =
          index.keyColumns().stream()
              .allMatch(key -> key.column().isPresent() && key.prefixLength().isEmpty());
      if (index.unique() && index.predicate().isEmpty() && plain) {
        Set<Identifier> key = new LinkedHashSet<>();
        index.keyColumns().forEach(column -> key.add(column.column().orElseThrow()));
        keys.add(key);
      }
    }
    return keys;
  }

  Estimate rows() {
    return rows;
  }

  List<Set<Identifier>> keys() {
    return keys;
  }

  /** Number of different combinations by group of columns that depend on each other. */
  Map<Set<Identifier>, Double> groups() {
    return statistics.groups();
  }

  TypeFamily family(Expression value) {
    return value instanceof ColumnRef ref
        ? table
            .column(ref.column())
            .map(Column::type)
            .map(type -> type.family())
            .orElse(TypeFamily.OTHER)
        : TypeFamily.OTHER;
  }

  /** What is stated about a plain column; nothing for an expression. */
  ColumnStatistics stated(Expression value) {
    return value instanceof ColumnRef ref
        ? statistics.column(ref.column())
        : ColumnStatistics.UNKNOWN;
  }

  /** Share of rows with NULL. */
  Estimate nulls(Expression value) {
    if (value instanceof ColumnRef ref) {
      OptionalDouble share = statistics.column(ref.column()).nullFraction();
      if (share.isPresent()) {
        return Estimate.declared(share.getAsDouble()).clamp(0, 1);
      }
      if (!table.isNullable(ref.column())) {
        return Estimate.derived(0);
      }
    }
    return Estimate.assumed(SelectivityDefaults.NULLS);
  }

  /** Share of rows with a value: only a stated share of NULLs is taken off. */
  double filled(Expression value) {
    return 1 - Math.min(1, Math.max(0, stated(value).nullFraction().orElse(0)));
  }

  /** Number of different values, at least 1. */
  Estimate distinct(Expression value) {
    if (value instanceof ColumnRef ref) {
      return distinct(ref.column());
    }
    if (value instanceof Call call && call.deterministic() && call.columns().size() == 1) {
      ColumnRef only = call.columns().iterator().next();
      return Estimate.assumed(distinct(only.column()).value());
    }
    return assumedDistinct();
  }

  Estimate distinct(Identifier column) {
    double most = Math.max(1, rows.value());
    OptionalDouble stated = statistics.column(column).distinct();
    if (stated.isPresent()) {
      return Estimate.declared(stated.getAsDouble()).clamp(1, most);
    }
    if (keys.contains(Set.of(column))) {
      return new Estimate(most, rows.confidence());
    }
    boolean truth =
        table.column(column).filter(c -> c.type().family() == TypeFamily.BOOLEAN).isPresent();
    return truth ? Estimate.assumed(Math.min(2, most)) : assumedDistinct();
  }

  private Estimate assumedDistinct() {
    return Estimate.assumed(Math.max(1, Math.min(SelectivityDefaults.DISTINCT, rows.value())));
  }

  /** Share of rows in which the value equals the sought one. */
  Estimate equality(Expression value, Expression sought) {
    if (sought instanceof Literal literal && literal.kind() == LiteralKind.NULL) {
      return Estimate.derived(0);
    }
    ColumnStatistics stated = stated(value);
    Optional<String> text =
        sought instanceof Literal literal ? Optional.of(literal.text()) : Optional.empty();
    if (text.isPresent() && !stated.commonValues().isEmpty()) {
      Double share = share(stated.commonValues(), text.get());
      if (share != null) {
        return Estimate.declared(share).clamp(0, 1);
      }
    }
    Estimate distinct = distinct(value);
    double average = filled(value) / distinct.value();
    if (text.isPresent() && stated.distinct().isPresent() && !stated.commonValues().isEmpty()) {
      average = Math.min(average, uncommon(value, distinct.value()));
    }
    return new Estimate(Math.min(1, average), distinct.confidence().weaker(Confidence.DERIVED));
  }

  private static Double share(Map<String, Double> commonValues, String text) {
    Double exact = commonValues.get(text);
    if (exact != null) {
      return exact;
    }
    for (Map.Entry<String, Double> entry : commonValues.entrySet()) {
      if (entry.getKey().equalsIgnoreCase(text)
          && (text.equalsIgnoreCase("true") || text.equalsIgnoreCase("false"))) {
        return entry.getValue();
      }
    }
    return null;
  }

  /**
   * What the common values leave over, shared out among the others (PostgreSQL's {@code
   * var_eq_const}).
   */
  private double uncommon(Expression value, double distinct) {
    Map<String, Double> common = stated(value).commonValues();
    double listed = common.values().stream().mapToDouble(Double::doubleValue).sum();
    double left = Math.max(0, filled(value) - listed);
    return left / Math.max(1, distinct - common.size());
  }
}
