package dev.colonnade.access;

import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Table;
import java.util.List;

/**
 * How one query reads one use of a table.
 *
 * @param block the block that uses it
 * @param use the use
 * @param table the table
 * @param joinPosition position in the join order, counted from 1
 * @param feeding uses of the same block that are read before it
 * @param demand what the use asks of an index in that position
 * @param chosen the cheapest way
 * @param candidates every index of the table, usable or not, by name
 * @param branches where the chosen way reads several indexes, one for each branch of an OR: those
 *     ways; empty otherwise
 * @param executions estimated number of times that the table is read in one execution of the query
 */
public record TableAccess(
    QueryBlock block,
    TableUse use,
    Table table,
    int joinPosition,
    List<Integer> feeding,
    Demand demand,
    Candidate chosen,
    List<Candidate> candidates,
    List<Candidate> branches,
    double executions) {
  /** Copies the lists. */
  public TableAccess {
    feeding = List.copyOf(feeding);
    candidates = List.copyOf(candidates);
    branches = List.copyOf(branches);
  }
}
