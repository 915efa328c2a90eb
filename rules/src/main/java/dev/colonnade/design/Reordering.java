package dev.colonnade.design;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Bound;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * An index that holds every column that a query binds, in an order that leaves some of them unused;
 * and the same columns in the order that serves the query best.
 *
 * @param index the index as it is
 * @param now what it offers
 * @param reordered the same columns in another order
 * @param then what that would offer
 * @param rangeFirst true when a range stands before an equality in the index as it is
 */
public record Reordering(
    Index index, Candidate now, Index reordered, Candidate then, boolean rangeFirst) {

  /**
   * The reordering that serves a query best, if one is worth while. Only indexes that somebody
   * created are looked at; the key of a constraint has other reasons.
   */
  public static Optional<Reordering> best(AccessPathAnalyzer analyzer, TableAccess access) {
    Set<Expression> bound = new LinkedHashSet<>();
    access.demand().bounds().stream()
        .filter(b -> b.kind() != Bound.Kind.IS_NOT_NULL)
        .map(Bound::value)
        .filter(ColumnRef.class::isInstance)
        .forEach(bound::add);
    if (bound.isEmpty() || !access.branches().isEmpty()) {
      return Optional.empty();
    }
    return access.candidates().stream()
        .filter(candidate -> isAtHand(access, candidate))
        .filter(candidate -> candidate.index().map(i -> isEligible(i, bound)).orElse(false))
        .flatMap(candidate -> reorderings(analyzer, access, candidate).stream())
        .filter(found -> found.then().matching().size() > found.now().matching().size())
        .filter(found -> Gain.isWorthwhile(access, found.then()))
        .min(
            Comparator.comparingDouble((Reordering found) -> found.then().cost())
                .thenComparing(found -> found.index().name()));
  }

  /** Where another index bounds the scan already, only that one is looked at. */
  private static boolean isAtHand(TableAccess access, Candidate candidate) {
    return access.chosen().matching().isEmpty()
        || candidate.index().equals(access.chosen().index());
  }

  private static boolean isEligible(Index index, Set<Expression> bound) {
    List<Expression> key = index.keyColumns().stream().map(KeyColumn::value).toList();
    return index.origin() == IndexOrigin.CREATE_INDEX
        && index.method() == IndexMethod.BTREE
        && key.size() > 1
        && key.containsAll(bound);
  }

  /** Equalities first, then either ranges and order, or order and ranges, then the rest. */
  private static List<Reordering> reorderings(
      AccessPathAnalyzer analyzer, TableAccess access, Candidate now) {
    Index index = now.index().orElseThrow();
    List<KeyColumn> points = new ArrayList<>();
    List<KeyColumn> ranges = new ArrayList<>();
    boolean rangeFirst = false;
    for (KeyColumn part : index.keyColumns()) {
      Optional<Bound> bound =
          access.demand().bounds().stream().filter(b -> b.value().equals(part.value())).findFirst();
      if (bound.isPresent() && bound.get().kind().isPoint()) {
        points.add(part);
        rangeFirst |= !ranges.isEmpty();
      } else if (bound.isPresent()) {
        ranges.add(part);
      }
    }
    List<KeyColumn> order = new ArrayList<>();
    for (OrderItem item : access.demand().order()) {
      index.keyColumns().stream()
          .filter(part -> part.value().equals(item.expression()))
          .forEach(order::add);
    }
    List<Reordering> result = new ArrayList<>();
    for (List<List<KeyColumn>> groups :
        List.of(
            List.of(points, ranges, order, index.keyColumns()),
            List.of(points, order, ranges, index.keyColumns()))) {
      Set<KeyColumn> key = new LinkedHashSet<>();
      groups.forEach(key::addAll);
      if (!List.copyOf(key).equals(index.keyColumns())) {
        Index reordered =
            ProposedIndex.like(
                access.table(), index, List.copyOf(key), index.includedColumns(), index.unique());
        result.add(
            new Reordering(
                index, now, reordered, analyzer.evaluate(access, reordered), rangeFirst));
      }
    }
    return result;
  }
}
