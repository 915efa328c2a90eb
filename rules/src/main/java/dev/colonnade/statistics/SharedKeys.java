package dev.colonnade.statistics;

import dev.colonnade.dialect.Storage.SharedEntries;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.TypeFamily;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * How many different keys an index holds whose rows share entries.
 *
 * <p>Safe direction: where the number of values of a key column is assumed only, no row is taken to
 * share an entry, which makes the index larger.
 */
final class SharedKeys {
  private final ColumnFacts facts;
  private final SharedEntries shared;

  SharedKeys(ColumnFacts facts, SharedEntries shared) {
    this.facts = facts;
    this.shared = shared;
  }

  /**
   * Number of different keys, NULL counted as a value; empty where each row has an entry of its
   * own, or where the number is not known.
   *
   * @param entries number of rows with an entry
   */
  OptionalDouble of(Index index, double entries) {
    if (shared.maxBytes() == 0 || index.unique() || !index.includedColumns().isEmpty()) {
      return OptionalDouble.empty();
    }
    Set<Identifier> columns = new LinkedHashSet<>();
    double cells = 1;
    for (KeyColumn part : index.keyColumns()) {
      Optional<Identifier> column = part.column();
      if (column.isEmpty() || !isSameBytes(facts.family(part.value()))) {
        return OptionalDouble.empty();
      }
      Estimate distinct = facts.distinct(column.get());
      if (distinct.confidence() == Confidence.ASSUMED) {
        return OptionalDouble.empty();
      }
      boolean nulls = facts.nulls(new ColumnRef(ColumnRef.SELF, column.get())).value() > 0;
      cells *= distinct.value() + (nulls ? 1 : 0);
      columns.add(column.get());
    }
    double rows = Math.max(1, facts.rows().value());
    Double stated = facts.groups().get(columns);
    double keys = stated != null ? stated : columns.size() == 1 ? cells : occurring(cells, rows);
    keys = Math.min(keys, rows);
    boolean partial = entries < rows && keys > 0;
    return OptionalDouble.of(partial ? kept(keys, rows, entries) : keys);
  }

  /**
   * True where equal values are the same bytes. Not so {@code 1.0} and {@code 1.00}, nor the two
   * zeros of approximate numbers (PostgreSQL 18 manual, chapter on B-tree indexes, deduplication).
   */
  private static boolean isSameBytes(TypeFamily family) {
    return switch (family) {
      case SMALL_INTEGER,
          INTEGER,
          BIG_INTEGER,
          TEXT,
          BOOLEAN,
          DATE,
          TIME,
          TIMESTAMP,
          UUID,
          BINARY ->
          true;
      case DECIMAL, FLOAT, LARGE_OBJECT, OTHER -> false;
    };
  }

  /** Of so many combinations that could occur, those that do in so many rows. */
  private static double occurring(double cells, double rows) {
    return PageVisits.cardenas(cells, rows);
  }

  /** Of the keys of all rows, those of a part of the rows chosen at random. */
  private static double kept(double keys, double rows, double entries) {
    return keys * (1 - Math.pow(1 - entries / rows, rows / keys));
  }
}
