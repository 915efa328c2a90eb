package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.schema.KeyColumn;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Divides the conditions into those that the bounds of the scan take care of, those that are
 * checked on the entry, and those that are left for the row.
 *
 * @param consumed conditions that every entry of the scanned stretch satisfies
 * @param screened conditions checked on the entry
 * @param residual conditions checked on the row
 * @param columns values of the entry that screening reads, in the order in which the entry holds
 *     them; matching values left out
 */
record EntryFilter(
    List<Predicate> consumed,
    List<Predicate> screened,
    List<Predicate> residual,
    List<Expression> columns) {

  static EntryFilter of(
      IndexEntry entry, Demand demand, KeyMatch match, boolean covering, Dialect dialect) {
    List<Predicate> consumed = new ArrayList<>();
    List<Predicate> screened = new ArrayList<>();
    List<Predicate> residual = new ArrayList<>();
    for (Predicate condition : demand.conditions()) {
      if (isConsumed(condition, match, entry)) {
        consumed.add(condition);
      } else if (canScreen(condition, entry, demand, covering, dialect)) {
        screened.add(condition);
      } else {
        residual.add(condition);
      }
    }
    return new EntryFilter(
        List.copyOf(consumed),
        List.copyOf(screened),
        List.copyOf(residual),
        screeningColumns(entry, match, screened));
  }

  private static boolean isConsumed(Predicate condition, KeyMatch match, IndexEntry entry) {
    if (!match.origins().contains(condition) || condition instanceof Or) {
      return false;
    }
    if (condition instanceof RowComparison row) {
      return match.values().containsAll(row.left());
    }
    if (condition instanceof Like like) {
      return endsWithOneWildcard(like);
    }
    return entry.index().keyColumns().stream()
        .filter(part -> match.values().contains(part.value()))
        .allMatch(
            part ->
                part.prefixLength().isEmpty()
                    || condition.columns().stream()
                        .noneMatch(column -> part.value().columns().contains(column)));
  }

  private static boolean endsWithOneWildcard(Like like) {
    String wildcard = like.wildcards() == Like.Wildcards.LIKE ? "%" : "*";
    return like.pattern() instanceof Expression.Literal literal
        && like.escape().isEmpty()
        && like.literalPrefix().map(head -> literal.text().equals(head + wildcard)).orElse(false);
  }

  private static boolean canScreen(
      Predicate condition, IndexEntry entry, Demand demand, boolean covering, Dialect dialect) {
    boolean held =
        condition.columns().stream()
                .filter(Operands::isSelf)
                .allMatch(column -> entry.held().contains(column.column()))
            || entry.search().stream().anyMatch(part -> part.value().equals(operand(condition)));
    if (!held) {
      return false;
    }
    if (covering) {
      return true;
    }
    return switch (dialect.matching().screening().value()) {
      case ANY_PREDICATE -> true;
      case SIMPLE_COMPARISON ->
          condition instanceof Comparison comparison
              && comparison.left() instanceof ColumnRef
              && comparison.right().columns().stream().noneMatch(Operands::isSelf);
      case INDEXABLE_ONLY ->
          demand.bounds().stream()
              .filter(bound -> bound.kind() != Kind.LIKE_PREFIX)
              .filter(bound -> bound.origins().contains(condition))
              .anyMatch(
                  bound -> entry.search().stream().anyMatch(p -> p.value().equals(bound.value())));
      case NONE -> false;
    };
  }

  private static Expression operand(Predicate condition) {
    if (condition instanceof Comparison comparison) {
      return comparison.left();
    }
    if (condition instanceof InList list) {
      return list.operand();
    }
    if (condition instanceof NullTest test) {
      return test.operand();
    }
    return condition instanceof Like like ? like.operand() : null;
  }

  /**
   * True when the query reads a column only as part of expressions that the entry holds, in
   * conditions that compare them with something else.
   */
  static boolean readsOnlyWithin(IndexEntry entry, Demand demand, ColumnRef column) {
    return !demand.outputColumns().contains(column.column())
        && demand.conditions().stream()
            .filter(condition -> condition.columns().contains(column))
            .allMatch(condition -> comparesPart(condition, entry, column));
  }

  private static boolean comparesPart(Predicate condition, IndexEntry entry, ColumnRef column) {
    Expression operand = operand(condition);
    boolean isPart = entry.search().stream().anyMatch(part -> part.value().equals(operand));
    if (condition instanceof Comparison comparison) {
      return isPart && !comparison.right().columns().contains(column);
    }
    if (condition instanceof InList list) {
      return isPart && list.values().stream().noneMatch(it -> it.columns().contains(column));
    }
    return isPart && condition instanceof NullTest;
  }

  private static List<Expression> screeningColumns(
      IndexEntry entry, KeyMatch match, List<Predicate> screened) {
    Set<Identifier> read = new LinkedHashSet<>();
    Set<Expression> operands = new LinkedHashSet<>();
    for (Predicate condition : screened) {
      condition.columns().stream()
          .filter(Operands::isSelf)
          .forEach(column -> read.add(column.column()));
      Expression operand = operand(condition);
      if (operand != null) {
        operands.add(operand);
      }
    }
    Set<Expression> result = new LinkedHashSet<>();
    for (KeyColumn part : entry.search()) {
      boolean isRead = part.column().map(read::contains).orElse(operands.contains(part.value()));
      if (isRead && !match.values().contains(part.value())) {
        result.add(part.value());
      }
    }
    for (Identifier column : entry.held()) {
      ColumnRef ref = new ColumnRef(ColumnRef.SELF, column);
      if (read.contains(column) && !match.values().contains(ref)) {
        result.add(ref);
      }
    }
    return List.copyOf(result);
  }
}
