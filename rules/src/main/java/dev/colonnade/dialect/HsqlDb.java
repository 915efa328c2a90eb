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

/** HSQLDB. */
final class HsqlDb {
  private static final String GUIDE = "http://hsqldb.org/doc/2.0/guide/management-chapt.html";
  private static final String RUN = "observed on HSQLDB 2.7.3";

  private HsqlDb() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect("hsqldb", "HSQLDB", version, storage(), features(), matching(), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(4096, "trees of single nodes without pages; a usual file block, " + MEMORY),
        Fact.of(4096, MEMORY),
        Fact.of(1.0, MEMORY),
        Fact.of(1.0, MEMORY),
        Fact.of(16, "node links, kept with the row, " + MEMORY),
        Fact.of(0, MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(16, MEMORY),
        Fact.of(Appended.ROW_ADDRESS, "a reference to the row, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(SharedEntries.NONE, "one row an entry, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features() {
    return new IndexFeatures(
        Fact.of(Included.NONE, RUN + ": syntax error"),
        Fact.of(Partial.NONE, RUN + ": syntax error"),
        Fact.of(false, RUN + ": syntax error"),
        Fact.of(false, GUIDE + ": DESC is accepted and ignored; " + RUN),
        Fact.of(false, "an index leads to the row, " + MEMORY),
        Fact.of(false, "no expression indexes, " + RUN),
        Fact.of(true, MEMORY),
        Fact.of(true, GUIDE + "; " + RUN),
        Fact.of(Integer.MAX_VALUE, "none stated"),
        Fact.of(0, "none stated"),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching matching() {
    return new Matching(
        Fact.of(InListPosition.LEADING_ALONE, RUN),
        Fact.of(true, GUIDE + "; " + RUN),
        Fact.of(NotNullPosition.LEADING, GUIDE + "; " + RUN),
        Fact.of(LikePrefix.ALWAYS, GUIDE + "; " + RUN),
        Fact.of(RowBound.NONE, RUN),
        Fact.of(true, RUN + ": joined with a table of the rows"),
        Fact.of(SkipScan.NONE, GUIDE + "; " + RUN),
        Fact.of(true, GUIDE + "; " + RUN),
        Fact.of(false, CAUTION),
        Fact.of(Screening.NONE, "an index leads to the row, " + MEMORY),
        Fact.of(false, RUN),
        Fact.of(false, RUN),
        Fact.of(false, RUN),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(Carried.NOTHING, "observed on HSQLDB 2.7.4"),
        Fact.of(true, "observed on HSQLDB 2.7.4"));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(true, "NULLs first unless set otherwise, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(true, GUIDE + "; " + RUN),
        Fact.of(false, RUN + ": no order marked as using the index"),
        Fact.of(false, RUN + ": not even a column that bounds the scan"),
        Fact.of(false, RUN + ": not even an equality does"),
        Fact.of(false, RUN + ": not marked as taken from the index"),
        Fact.of(InListOrder.KEPT_ON_LEADING, RUN),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(GroupDirection.ANY, "observed on HSQLDB 2.7.4"),
        Fact.of(false, "observed on HSQLDB 2.7.4"),
        Fact.of(true, "observed on HSQLDB 2.7.4"),
        Fact.of(true, "observed on HSQLDB 2.7.4"),
        Fact.of(true, "observed on HSQLDB 2.7.4"));
  }
}
