package dev.colonnade.access;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.query.Aggregate;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.statistics.Estimate;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What a block as a whole lets a scan of one of its tables do: stop early, jump to an end, skip.
 *
 * @param wantedRows number of rows after which the scan may stop; empty where all are needed
 * @param extreme the value whose smallest or largest is all that is wanted; a column of {@code
 *     SELF}
 * @param largest true where that is the largest one, and nothing else
 * @param extremes number of such aggregates
 * @param singleTable true when the block reads one table only
 * @param grouped true with GROUP BY or DISTINCT
 * @param distinct true with DISTINCT and without GROUP BY
 * @param joined true when rows of several tables meet, those of subqueries under IN or EXISTS
 *     included
 * @param outerJoin true where a table can be a row of NULLs
 * @param derivedJoined true where a derived table is joined with two tables or more
 * @param joinedFurther true where the rows of an outer join are joined with another table
 */
record BlockTraits(
    Optional<Estimate> wantedRows,
    Optional<Expression> extreme,
    boolean largest,
    int extremes,
    boolean singleTable,
    boolean grouped,
    boolean distinct,
    boolean joined,
    boolean outerJoin,
    boolean derivedJoined,
    boolean joinedFurther) {

  /** Rows assumed to be wanted where a parameter limits them: a page of a listing. */
  static final double ASSUMED_LIMIT = 20;

  private static final Set<String> EXTREMES = Set.of("min", "max");

  /** The traits of a block as seen from one of its uses. */
  static BlockTraits of(QueryBlock block, int use) {
    boolean singleTable = block.from().size() == 1;
    boolean grouped = !block.groupBy().isEmpty() || block.distinct();
    boolean streams = singleTable && !grouped && block.aggregates().isEmpty();
    Optional<Estimate> wanted =
        streams
            ? block
                .limit()
                .map(
                    limit ->
                        limit.rows().isPresent()
                            ? Estimate.declared((double) limit.rows().getAsLong())
                            : Estimate.assumed(ASSUMED_LIMIT))
            : Optional.empty();
    return new BlockTraits(
        wanted,
        singleTable && !grouped ? extreme(block, use) : Optional.empty(),
        block.aggregates().stream().allMatch(it -> it.function().equals("max")),
        block.aggregates().size(),
        singleTable,
        grouped,
        block.distinct() && block.groupBy().isEmpty(),
        !singleTable || block.conjuncts().stream().anyMatch(BlockTraits::isSemiJoin),
        block.from().stream().anyMatch(FromItem::nullSupplied),
        block.from().size() > 2 && block.from().stream().anyMatch(DerivedUse.class::isInstance),
        block.from().stream()
            .dropWhile(item -> !item.nullSupplied())
            .anyMatch(item -> !item.nullSupplied()));
  }

  private static boolean isSemiJoin(Conjunct conjunct) {
    return conjunct.predicate() instanceof InSubquery || conjunct.predicate() instanceof Exists;
  }

  private static Optional<Expression> extreme(QueryBlock block, int use) {
    List<Expression> arguments =
        block.aggregates().stream()
            .filter(aggregate -> EXTREMES.contains(aggregate.function()))
            .map(Aggregate::arguments)
            .filter(list -> list.size() == 1)
            .map(list -> list.get(0))
            .toList();
    boolean one =
        !arguments.isEmpty()
            && arguments.size() == block.aggregates().size()
            && arguments.stream().distinct().count() == 1
            && arguments.get(0) instanceof ColumnRef column
            && column.use() == use;
    return one
        ? Optional.of(new ColumnRef(ColumnRef.SELF, ((ColumnRef) arguments.get(0)).column()))
        : Optional.empty();
  }
}
