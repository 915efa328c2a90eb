package dev.colonnade.design;

import dev.colonnade.access.Candidate;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * One order of columns for an index on a table, with what it would offer to a query.
 *
 * @param index the index with its columns in this order, existing or thought of
 * @param candidate what it offers in the query's place
 * @param existing the index of the table that has this very order; empty for one thought of
 * @param entryBytes bytes of one entry
 */
public record ColumnOrder(
    Index index, Candidate candidate, Optional<Index> existing, double entryBytes) {

  /** The columns as a list: {@code berth_id, fee}; included ones behind {@code include}. */
  public String render() {
    String key =
        index.keyColumns().stream().map(KeyColumn::render).collect(Collectors.joining(", "));
    if (index.includedColumns().isEmpty()) {
      return key;
    }
    return index.includedColumns().stream()
        .map(column -> column.text())
        .collect(Collectors.joining(", ", key + " include ", ""));
  }

  /**
   * True when both have the same key and the same included columns, in whatever order these are.
   */
  boolean sameColumns(Index other) {
    List<KeyColumn> key = other.keyColumns();
    return index.keyColumns().equals(key)
        && index.predicate().isEmpty()
        && other.predicate().isEmpty()
        && index.includedColumns().size() == other.includedColumns().size()
        && other.includedColumns().containsAll(index.includedColumns());
  }
}
