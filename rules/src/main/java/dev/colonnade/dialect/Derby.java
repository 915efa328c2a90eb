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

/** Apache Derby. */
final class Derby {
  private static final String TUNING = "https://db.apache.org/derby/docs/10.13/tuning/";
  private static final String RUN = "observed on Derby 10.16.1.1";

  private Derby() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect("derby", "Derby", version, storage(), features(), matching(), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(4096, MEMORY),
        Fact.of(4000, "page header and checksum take about 96 bytes, " + MEMORY),
        Fact.of(1.0, MEMORY),
        Fact.of(1.0, MEMORY),
        Fact.of(14, "record header and row location, " + MEMORY),
        Fact.of(6, "slot table, " + MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(14, "record header and slot table, " + MEMORY),
        Fact.of(Appended.ROW_ADDRESS, RUN),
        Fact.of(false, MEMORY),
        Fact.of(SharedEntries.NONE, "one row an entry, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features() {
    return new IndexFeatures(
        Fact.of(Included.NONE, RUN + ": syntax error"),
        Fact.of(Partial.NONE, RUN + ": syntax error"),
        Fact.of(false, RUN + ": syntax error"),
        Fact.of(true, RUN),
        Fact.of(true, TUNING + "rtunoptimz1004810.html; " + RUN),
        Fact.of(false, "no expression indexes, " + RUN),
        Fact.of(true, RUN),
        Fact.of(true, TUNING + "rtunoptimz1004810.html; " + RUN),
        Fact.of(16, MEMORY),
        Fact.of(0, "limited by the size of a page, " + MEMORY),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching matching() {
    return new Matching(
        Fact.of(InListPosition.LEADING, RUN),
        Fact.of(true, RUN),
        Fact.of(NotNullPosition.NONE, RUN),
        Fact.of(LikePrefix.ALWAYS, TUNING + "rtunoptimz1004810.html; " + RUN),
        Fact.of(RowBound.NONE, "rows cannot be compared in this language, " + MEMORY),
        Fact.of(false, "rows cannot be compared in this language, " + MEMORY),
        Fact.of(SkipScan.NONE, TUNING + "rtunoptimz1004602.html; " + RUN),
        Fact.of(
            false, "https://db.apache.org/derby/docs/10.16/tuning/ctuntransform35783.html; " + RUN),
        Fact.of(false, RUN),
        Fact.of(Screening.SIMPLE_COMPARISON, RUN + ": qualifiers; functions are not among them"),
        Fact.of(false, "not in this language, " + MEMORY),
        Fact.of(true, RUN),
        Fact.of(true, RUN),
        Fact.of(false, "observed on Derby 10.16.1.1"),
        Fact.of(false, "observed on Derby 10.16.1.1"),
        Fact.of(
            Carried.COMPARISONS,
            "https://db.apache.org/derby/docs/10.16/tuning/, transitive closure; "
                + "observed on Derby 10.16.1.1"),
        Fact.of(false, "observed on Derby 10.16.1.1"));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(false, "NULL is highest, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(false, RUN),
        Fact.of(true, RUN),
        Fact.of(true, RUN),
        Fact.of(true, RUN),
        Fact.of(false, RUN + ": sorted"),
        Fact.of(InListOrder.KEPT, RUN),
        Fact.of(false, "observed on Derby 10.16.1.1"),
        Fact.of(true, "observed on Derby 10.16.1.1"),
        Fact.of(false, "observed on Derby 10.16.1.1"),
        Fact.of(GroupDirection.ANY, "observed on Derby 10.16.1.1"),
        Fact.of(false, "observed on Derby 10.16.1.1"),
        Fact.of(true, "observed on Derby 10.16.1.1"),
        Fact.of(true, "observed on Derby 10.16.1.1"),
        Fact.of(true, "observed on Derby 10.16.1.1"));
  }
}
