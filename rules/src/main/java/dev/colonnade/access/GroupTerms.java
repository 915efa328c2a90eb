package dev.colonnade.access;

import dev.colonnade.dialect.SortRules;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The terms of GROUP BY that decide which rows come together. */
final class GroupTerms {
  private final QueryBlock block;
  private final Map<Integer, Table> tables;
  private final SortRules rules;

  GroupTerms(QueryBlock block, Map<Integer, Table> tables, SortRules rules) {
    this.block = block;
    this.tables = tables;
    this.rules = rules;
  }

  /**
   * The terms without those columns that a key of their table among the terms decides, where the
   * database drops such.
   */
  List<Expression> deciding() {
    Set<Expression> kept = new LinkedHashSet<>(block.groupBy());
    for (TableUse use : block.tables()) {
      Set<Identifier> grouped = new LinkedHashSet<>();
      kept.stream()
          .filter(ColumnRef.class::isInstance)
          .map(ColumnRef.class::cast)
          .filter(column -> column.use() == use.use())
          .forEach(column -> grouped.add(column.column()));
      Optional.ofNullable(tables.get(use.use()))
          .flatMap(table -> shortestKey(table, grouped))
          .ifPresent(
              key ->
                  kept.removeIf(
                      term ->
                          term instanceof ColumnRef column
                              && column.use() == use.use()
                              && !key.contains(column.column())));
    }
    return List.copyOf(kept);
  }

  private Optional<List<Identifier>> shortestKey(Table table, Set<Identifier> within) {
    return keys(table).stream()
        .filter(key -> !key.isEmpty() && within.containsAll(key))
        .min(Comparator.comparingInt(List::size));
  }

  private List<List<Identifier>> keys(Table table) {
    return switch (rules.dependentGroupTerms().value()) {
      case KEPT -> List.of();
      case PRIMARY_KEY -> List.of(table.primaryKey());
      case UNIQUE_KEY -> {
        List<List<Identifier>> keys = new ArrayList<>(List.of(table.primaryKey()));
        table.indexes().stream()
            .filter(index -> index.unique() && index.predicate().isEmpty())
            .filter(index -> index.keyColumns().stream().allMatch(part -> isCertain(table, part)))
            .map(GroupTerms::columns)
            .forEach(keys::add);
        yield keys;
      }
    };
  }

  private static boolean isCertain(Table table, KeyColumn part) {
    return part.column().map(column -> !table.isNullable(column)).orElse(false);
  }

  private static List<Identifier> columns(Index index) {
    return index.keyColumns().stream().flatMap(part -> part.column().stream()).toList();
  }
}
