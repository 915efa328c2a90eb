package dev.colonnade.dialect;

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

/** H2. */
final class H2 {
  private static final String PERFORMANCE = "https://h2database.com/html/performance.html";
  private static final String CURSOR = "h2database @a5e059b6, IndexCursor.java";
  private static final String RUN = "observed on H2 2.3.232";

  private H2() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect("h2", "H2", version, storage(), features(version), matching(), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(4096, "pages are of no fixed size; a usual file block, " + MEMORY),
        Fact.of(4096, MEMORY),
        Fact.of(0.75, "pages split in half when full, " + MEMORY),
        Fact.of(0.75, "pages split in half when full, " + MEMORY),
        Fact.of(8, "row number and value types, " + MEMORY),
        Fact.of(0, MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(8, "row number and value types, " + MEMORY),
        Fact.of(Appended.HELD_INTEGER_PRIMARY_KEY, PERFORMANCE),
        Fact.of(false, "only by one integer column, " + PERFORMANCE),
        Fact.of(SharedEntries.NONE, "one row an entry, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features(DatabaseVersion version) {
    return new IndexFeatures(
        version.choose(
            Fact.of(Included.UNIQUE_ONLY, "help.csv, CREATE INDEX; " + RUN + " and on 2.0.206"),
            Fact.of(Included.NONE, "observed on H2 1.4.200: syntax error"),
            2),
        Fact.of(Partial.NONE, RUN + ": syntax error"),
        Fact.of(false, RUN + ": syntax error"),
        Fact.of(true, RUN),
        Fact.of(true, PERFORMANCE),
        Fact.of(false, "no expression indexes, " + RUN),
        Fact.of(true, MEMORY),
        Fact.of(true, "help.csv, \"if required\"; " + RUN),
        Fact.of(16384, "columns of a table, advanced.html"),
        Fact.of(0, "none stated"),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching matching() {
    return new Matching(
        Fact.of(
            InListPosition.LEADING_LAST,
            CURSOR
                + "; scanCount observed on H2 2.5.252: what stands behind the list is listed in"
                + " the plan, but does not seek"),
        Fact.of(true, RUN),
        Fact.of(NotNullPosition.NONE, RUN),
        Fact.of(LikePrefix.ALWAYS, RUN),
        Fact.of(RowBound.FIRST_COLUMN, RUN + ": the first column only"),
        Fact.of(true, "observed on H2 2.5.252: each column of the row like an IN list"),
        Fact.of(SkipScan.NONE, RUN),
        Fact.of(false, PERFORMANCE + "; " + RUN),
        Fact.of(false, RUN + ": table scan"),
        Fact.of(
            Screening.ANY_PREDICATE, "the row is read when a value of it is asked for, " + MEMORY),
        Fact.of(true, RUN),
        Fact.of(true, RUN),
        Fact.of(true, RUN + ": the plan lists the later column"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(
            Carried.VALUES_OF_PAIR,
            "source, ConditionAndOr.java, optimize: two comparisons side by side; observed on H2"
                + " 2.5.252"),
        Fact.of(true, "observed on H2 2.5.252"));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(true, "NULL is lowest unless set otherwise, " + MEMORY),
        Fact.of(true, PERFORMANCE),
        Fact.of(true, PERFORMANCE + "; " + RUN),
        Fact.of(false, RUN + ": not marked as index sorted"),
        Fact.of(false, RUN + ": not even a column that bounds the scan"),
        Fact.of(false, RUN + ": not even an equality does"),
        Fact.of(false, RUN + ": not marked as taken from the index"),
        Fact.of(InListOrder.KEPT, "observed on H2 2.5.252; lost on 2.3.232"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(GroupDirection.ANY, "observed on H2 2.5.252"),
        Fact.of(false, "observed on H2 2.5.252"),
        Fact.of(true, "observed on H2 2.5.252"),
        Fact.of(true, "observed on H2 2.5.252"),
        Fact.of(true, "observed on H2 2.5.252"));
  }
}
