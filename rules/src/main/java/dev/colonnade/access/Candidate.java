package dev.colonnade.access;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.Index;
import java.util.List;
import java.util.Optional;

/**
 * One way to read one use of a table: through an index, or without one.
 *
 * @param index the index; empty for reading the table itself
 * @param path the access path; {@code full-table-scan} for an index that is of no use here
 * @param matching values that bound the stretch that is read, in key order: columns of {@code SELF}
 *     or expressions over them
 * @param screening values of the entry, not matching, on which it can be rejected without a visit
 *     to the table
 * @param residual conditions left to check on the row
 * @param covering true when nothing is needed from the table
 * @param missing columns needed that the entry does not hold
 * @param orderServed whether the rows come in the order asked for; empty where none is asked for
 * @param groupingServed whether groups come together; empty where no grouping is asked for
 * @param remark why matching ended where it did, or why the index is of no use: a phrase for people
 * @param estimate what one execution reads
 * @param cost what one execution costs, in units of one page read in sequence
 */
public record Candidate(
    Optional<Index> index,
    AccessPath path,
    List<Expression> matching,
    List<Expression> screening,
    List<Predicate> residual,
    boolean covering,
    List<Identifier> missing,
    Optional<Boolean> orderServed,
    Optional<Boolean> groupingServed,
    String remark,
    AccessEstimate estimate,
    double cost) {
  /** Copies the lists. */
  public Candidate {
    matching = List.copyOf(matching);
    screening = List.copyOf(screening);
    residual = List.copyOf(residual);
    missing = List.copyOf(missing);
  }

  /** True when the index is of no use to this query. */
  public boolean isUnusable() {
    return index.isPresent() && path == AccessPath.FULL_TABLE_SCAN;
  }
}
