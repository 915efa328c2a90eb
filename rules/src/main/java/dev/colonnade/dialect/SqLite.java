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

/** SQLite. */
final class SqLite {
  private static final String DOCS = "https://www.sqlite.org/";
  private static final String RUN = "observed on SQLite 3.40.1";

  private SqLite() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect(
        "sqlite", "SQLite", version, storage(), features(version), matching(version), ordering());
  }

  private static Storage storage() {
    String file = DOCS + "fileformat2.html";
    return new Storage(
        Fact.of(4096, file),
        Fact.of(4088, "less a page header of 8, " + file),
        Fact.of(1.0, "CREATE INDEX fills pages in order, " + MEMORY),
        Fact.of(1.0, "CREATE INDEX fills pages in order, " + MEMORY),
        Fact.of(8, "cell and record headers of 3 and a row number of about 5, " + MEMORY),
        Fact.of(2, "cell pointer, " + file),
        Fact.of(1, file),
        Fact.of(12, "cell pointer 2, payload size 2, row number 4, record header 4, " + MEMORY),
        Fact.of(
            Appended.INTEGER_PRIMARY_KEY,
            file
                + "; https://www.sqlite.org/lang_createtable.html, \"ROWIDs and the INTEGER PRIMARY"
                + " KEY\": other names of integer types do not count; "
                + RUN),
        Fact.of(false, "only WITHOUT ROWID tables, " + DOCS + "withoutrowid.html"),
        Fact.of(SharedEntries.NONE, "one row an entry, https://www.sqlite.org/fileformat2.html"),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features(DatabaseVersion version) {
    return new IndexFeatures(
        Fact.of(Included.NONE, RUN + ": syntax error"),
        Fact.of(Partial.SAME_TERM, DOCS + "partialindex.html; " + RUN),
        version.choose(
            Fact.of(true, DOCS + "expridx.html, 3.9.0 and later; " + RUN),
            Fact.of(false, DOCS + "expridx.html, before 3.9.0"),
            3,
            9),
        Fact.of(true, DOCS + "lang_createindex.html; " + RUN),
        Fact.of(true, DOCS + "queryplanner.html; " + RUN),
        version.choose(
            Fact.of(true, "observed on SQLite 3.49.1 to 3.54.1"),
            Fact.of(false, "observed on SQLite 3.36.0 to 3.47.2"),
            3,
            49),
        Fact.of(true, DOCS + "datatype3.html, NULL is smallest"),
        Fact.of(false, DOCS + "foreignkeys.html; " + RUN),
        Fact.of(2000, DOCS + "limits.html"),
        Fact.of(0, DOCS + "fileformat2.html: longer keys continue on overflow pages"),
        version.choose(
            Fact.of(PredicateCover.EQUALITIES, "observed on SQLite 3.44.1 and 3.54.1"),
            Fact.of(PredicateCover.NONE, "observed on SQLite 3.36.0 to 3.43.2"),
            3,
            44));
  }

  private static Matching matching(DatabaseVersion version) {
    String overview = DOCS + "optoverview.html";
    return new Matching(
        Fact.of(InListPosition.ANY, overview + "; " + RUN),
        Fact.of(true, overview + "; " + RUN),
        Fact.of(
            NotNullPosition.NONE,
            "only in builds with SQLITE_ENABLE_STAT4, and then rarely; " + RUN),
        Fact.of(LikePrefix.CASE_INSENSITIVE_COLLATION, overview + "; " + RUN),
        version.choose(
            Fact.of(RowBound.ALL_COLUMNS, RUN),
            Fact.of(RowBound.NONE, "rows came with 3.15.0, " + DOCS + "rowvalue.html"),
            3,
            15),
        Fact.of(false, RUN + ": a list of rows must be written as a subquery and is a SCAN"),
        Fact.of(SkipScan.WITH_STATISTICS, overview + "; " + RUN),
        Fact.of(true, overview + "; " + RUN),
        Fact.of(false, RUN + ": one scan for each branch instead"),
        Fact.of(Screening.ANY_PREDICATE, RUN + ": the seek of the row is deferred"),
        Fact.of(true, RUN + ": IS"),
        Fact.of(false, RUN + ": where f is a SCAN"),
        Fact.of(false, RUN),
        Fact.of(false, "observed on SQLite 3.54.1"),
        Fact.of(false, "observed on SQLite 3.54.1"),
        Fact.of(Carried.CONDITIONS, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(true, DOCS + "datatype3.html"),
        Fact.of(false, DOCS + "lang_createindex.html; " + RUN),
        Fact.of(true, DOCS + "queryplanner.html; " + RUN),
        Fact.of(true, DOCS + "queryplanner.html; " + RUN),
        Fact.of(false, RUN + ": the right part of the order is sorted"),
        Fact.of(true, RUN),
        Fact.of(false, RUN + ": sorted"),
        Fact.of(InListOrder.KEPT, RUN + "; the values of a list are sorted first"),
        Fact.of(false, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"),
        Fact.of(GroupDirection.ANY, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"),
        Fact.of(false, "observed on SQLite 3.54.1"),
        Fact.of(true, "observed on SQLite 3.54.1"));
  }
}
