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

/** Db2 for Linux, UNIX and Windows. */
final class Db2 {
  private static final String CENTER = "https://www.ibm.com/support/knowledgecenter/";
  private static final String PREDICATES =
      CENTER + "en/SSEPGG_10.5.0/com.ibm.db2.luw.admin.perf.doc/doc/r0024842.html";
  private static final String CREATE_INDEX = "CREATE INDEX, Db2 11.1, page r0000919";

  private Db2() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect(
        "db2", "Db2", version, storage(), features(version), matching(version), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(8192, "usual size; 4096 unless said otherwise, " + MEMORY),
        Fact.of(8092, "page header and directory take about 100 bytes, " + MEMORY),
        Fact.of(0.9, "PCTFREE 10, " + MEMORY),
        Fact.of(0.9, "LEVEL2 PCTFREE 10, " + MEMORY),
        Fact.of(9, "entry header and row address, " + MEMORY),
        Fact.of(2, MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(12, MEMORY),
        Fact.of(Appended.ROW_ADDRESS, MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(SharedEntries.NONE, "a key with a list of rows, sizes not known: not counted on"),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features(DatabaseVersion version) {
    return new IndexFeatures(
        Fact.of(Included.UNIQUE_ONLY, CREATE_INDEX + "; with UNIQUE only, " + MEMORY),
        Fact.of(Partial.NONE, MEMORY),
        version.choose(
            Fact.of(true, CREATE_INDEX + "; 10.5 and later, " + MEMORY),
            Fact.of(false, "before 10.5, " + MEMORY),
            10,
            5),
        Fact.of(true, CREATE_INDEX),
        Fact.of(true, MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(64, MEMORY),
        Fact.of(2048, "a quarter of a page, " + MEMORY),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching matching(DatabaseVersion version) {
    return new Matching(
        Fact.of(
            InListPosition.ANY,
            "for z/OS https://www.ibm.com/docs/en/db2-for-zos/13.0.0"
                + "?topic=dx-in-list-access-accesstypen-in; for LUW "
                + MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(NotNullPosition.NONE, "for z/OS a secondary page, bmc.com/blogs/db2-predicates"),
        Fact.of(LikePrefix.ALWAYS, "a secondary page, bmc.com/blogs/db2-predicates"),
        Fact.of(RowBound.NONE, CAUTION),
        Fact.of(false, CAUTION),
        version.choose(
            Fact.of(SkipScan.FEW_LEADING_VALUES, "jump scan, " + PREDICATES),
            Fact.of(SkipScan.NONE, "before 10.1, " + MEMORY),
            10,
            1),
        Fact.of(true, "index ORing, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(Screening.ANY_PREDICATE, "index-sargable predicates, " + PREDICATES),
        Fact.of(true, "IS NOT DISTINCT FROM, a secondary page, bmc.com/blogs/db2-predicates"),
        Fact.of(false, CAUTION),
        Fact.of(true, PREDICATES),
        Fact.of(false, MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(Carried.VALUES, MEMORY),
        Fact.of(true, MEMORY));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(false, "NULL is highest, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(true, "ALLOW REVERSE SCANS is the default, " + MEMORY),
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
