package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

import dev.colonnade.dialect.IndexFeatures.Included;
import dev.colonnade.dialect.IndexFeatures.Partial;
import dev.colonnade.dialect.IndexFeatures.PredicateCover;
import dev.colonnade.dialect.Matching.Carried;
import dev.colonnade.dialect.Matching.InListPosition;
import dev.colonnade.dialect.Matching.LikePrefix;
import dev.colonnade.dialect.Matching.NotNullPosition;
import dev.colonnade.dialect.Matching.RowBound;
import dev.colonnade.dialect.Matching.Screening;
import dev.colonnade.dialect.Matching.SkipScan;
import dev.colonnade.dialect.Ordering.GroupDirection;
import dev.colonnade.dialect.Ordering.InListOrder;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.dialect.Storage.SharedEntries;

/** Oracle Database. */
final class Oracle {
  private static final String CONCEPTS =
      "https://docs.oracle.com/en/database/oracle/oracle-database/19/cncpt/"
          + "indexes-and-index-organized-tables.html";

  private Oracle() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect("oracle", "Oracle", version, storage(), features(), matching(), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(8192, "usual DB_BLOCK_SIZE, " + MEMORY),
        Fact.of(8020, "block and transaction headers take about 170 bytes, " + MEMORY),
        Fact.of(0.9, "PCTFREE 10, " + MEMORY),
        Fact.of(0.9, "PCTFREE 10, " + MEMORY),
        Fact.of(10, "entry header 2, row address 6 and its length 1, key length 1, " + MEMORY),
        Fact.of(2, "row directory, " + MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(5, "row header 3 and row directory 2, " + MEMORY),
        Fact.of(Appended.ROW_ADDRESS, CONCEPTS),
        Fact.of(false, "heap-organized unless said otherwise, " + CONCEPTS),
        Fact.of(SharedEntries.NONE, "one row an entry, unless compressed, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features() {
    return new IndexFeatures(
        Fact.of(Included.NONE, MEMORY),
        Fact.of(Partial.NONE, MEMORY),
        Fact.of(true, CONCEPTS),
        Fact.of(true, CONCEPTS),
        Fact.of(true, CONCEPTS),
        Fact.of(false, CAUTION),
        Fact.of(false, CONCEPTS),
        Fact.of(false, CONCEPTS),
        Fact.of(32, MEMORY),
        Fact.of(6398, "blocks of 8 KiB, error ORA-01450 on a secondary page"),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching matching() {
    return new Matching(
        Fact.of(InListPosition.ANY, "the list is iterated, " + MEMORY),
        Fact.of(true, "where another key column is NOT NULL, consequence of " + CONCEPTS),
        Fact.of(NotNullPosition.NONE, CAUTION),
        Fact.of(LikePrefix.ALWAYS, CONCEPTS),
        Fact.of(RowBound.NONE, "rows are not ordered in this language, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(SkipScan.FEW_LEADING_VALUES, CONCEPTS),
        Fact.of(true, "OR expansion or bitmap conversion, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(Screening.ANY_PREDICATE, "filter predicates of an index scan, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, "no boolean columns before 23, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(Carried.VALUES, MEMORY),
        Fact.of(true, MEMORY));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(false, "NULLS LAST in ascending order, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(true, "range scan descending, on a secondary page"),
        Fact.of(true, MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(InListOrder.LOST, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(GroupDirection.ANY, MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY));
  }
}
