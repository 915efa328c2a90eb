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

/** PostgreSQL. */
final class PostgreSql {
  private static final String MANUAL = "https://www.postgresql.org/docs/18/";
  private static final String NBTREE = "src/include/access/nbtree.h";
  private static final String RUN = "observed on PostgreSQL 15.18";

  /** A tenth of a page, less a line pointer, in steps of 8. */
  private static final int POSTING_LIST = 808;

  private PostgreSql() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect(
        "postgresql",
        "PostgreSQL",
        version,
        storage(version),
        features(version),
        matching(version),
        ordering(version));
  }

  private static Storage storage(DatabaseVersion version) {
    return new Storage(
        Fact.of(8192, MANUAL + "storage-page-layout.html"),
        Fact.of(8152, "8192 less a header of 24 and 16 of special space; " + RUN),
        Fact.of(0.9, NBTREE + ", BTREE_DEFAULT_FILLFACTOR"),
        Fact.of(0.7, NBTREE + ", BTREE_NONLEAF_FILLFACTOR"),
        Fact.of(8, "index tuple header; " + RUN),
        Fact.of(4, "line pointer, " + MANUAL + "storage-page-layout.html"),
        Fact.of(8, "MAXALIGN; " + RUN),
        Fact.of(
            28,
            "row header of 23, aligned to 24, and line pointer of 4; "
                + MANUAL
                + "storage-page-layout.html"),
        Fact.of(Appended.ROW_ADDRESS, MANUAL + "btree.html"),
        Fact.of(false, MANUAL + "sql-cluster.html"),
        version.choose(
            Fact.of(
                new SharedEntries(POSTING_LIST, 6),
                MANUAL
                    + "btree.html, deduplication, and what it cannot be used with; a tenth of a"
                    + " page, src/backend/access/nbtree/nbtsort.c, "
                    + MEMORY
                    + "; sizes observed on PostgreSQL 18.6"),
            Fact.of(
                SharedEntries.NONE, "https://www.postgresql.org/docs/12/btree-implementation.html"),
            13),
        version.choose(
            Fact.of(
                true,
                "https://www.postgresql.org/docs/17/release-17.html, values of IN lists; observed"
                    + " on PostgreSQL 18.6"),
            Fact.of(false, "one descent for each value of a list, " + MEMORY),
            17));
  }

  private static IndexFeatures features(DatabaseVersion version) {
    return new IndexFeatures(
        version.choose(
            Fact.of(
                Included.ANY, MANUAL + "indexes-index-only-scans.html; B-tree, GiST and SP-GiST"),
            Fact.of(Included.NONE, "release notes 11: INCLUDE is new there, " + MEMORY),
            11),
        Fact.of(Partial.IMPLICATION, MANUAL + "indexes-partial.html; " + RUN),
        Fact.of(true, MANUAL + "indexes-expressional.html"),
        Fact.of(true, MANUAL + "indexes-ordering.html"),
        Fact.of(true, MANUAL + "indexes-index-only-scans.html"),
        Fact.of(false, MANUAL + "indexes-index-only-scans.html; " + RUN),
        Fact.of(true, MANUAL + "indexes-types.html"),
        Fact.of(false, MANUAL + "ddl-constraints.html; " + RUN),
        Fact.of(32, MANUAL + "indexes-multicolumn.html; included columns count; " + RUN),
        Fact.of(2704, "a third of a page of 8192, computed from " + NBTREE),
        Fact.of(PredicateCover.ALL, "observed on PostgreSQL 18.6"));
  }

  private static Matching matching(DatabaseVersion version) {
    return new Matching(
        Fact.of(InListPosition.ANY, RUN),
        Fact.of(true, MANUAL + "indexes-types.html; " + RUN),
        Fact.of(NotNullPosition.ANY, MANUAL + "indexes-types.html; " + RUN),
        Fact.of(LikePrefix.BYTE_ORDER, MANUAL + "indexes-opclass.html; " + RUN),
        Fact.of(RowBound.ALL_COLUMNS, RUN),
        Fact.of(true, RUN + ": one scan for each row of the list, united as bitmaps"),
        version.choose(
            Fact.of(
                SkipScan.FEW_LEADING_VALUES,
                MANUAL + "indexes-multicolumn.html; release notes 18, E.2.3.1.2"),
            Fact.of(SkipScan.NONE, "https://www.postgresql.org/docs/17/indexes-multicolumn.html"),
            18),
        Fact.of(true, MANUAL + "indexes-bitmap-scans.html; " + RUN),
        Fact.of(false, RUN + ": one scan for each branch instead"),
        Fact.of(Screening.INDEXABLE_ONLY, RUN + ": others appear as Filter, not as Index Cond"),
        Fact.of(false, RUN + ": IS NOT DISTINCT FROM is a Filter"),
        Fact.of(true, RUN),
        Fact.of(false, MANUAL + "indexes-multicolumn.html"),
        Fact.of(false, "observed on PostgreSQL 18.6"),
        Fact.of(false, "observed on PostgreSQL 18.6"),
        Fact.of(
            Carried.VALUES,
            "src/backend/optimizer/README, equivalence classes; observed on PostgreSQL 18.6"),
        Fact.of(true, "observed on PostgreSQL 18.6"));
  }

  private static Ordering ordering(DatabaseVersion version) {
    return new Ordering(
        Fact.of(false, MANUAL + "indexes-ordering.html"),
        Fact.of(true, MANUAL + "indexes-ordering.html"),
        Fact.of(true, MANUAL + "indexes-ordering.html; " + RUN),
        Fact.of(true, RUN),
        Fact.of(true, RUN),
        Fact.of(false, RUN + ": where a is null order by b is sorted"),
        Fact.of(true, RUN),
        version.choose(
            Fact.of(InListOrder.KEPT, "observed on PostgreSQL 18.6; from version 17, " + MEMORY),
            Fact.of(InListOrder.KEPT_ON_LEADING, RUN + "; up to version 16"),
            17),
        Fact.of(true, "observed on PostgreSQL 18.6"),
        Fact.of(true, "observed on PostgreSQL 18.6"),
        Fact.of(true, "observed on PostgreSQL 18.6"),
        Fact.of(GroupDirection.UNIFORM, "observed on PostgreSQL 18.6"),
        Fact.of(false, "observed on PostgreSQL 18.6"),
        Fact.of(false, "observed on PostgreSQL 18.6"),
        Fact.of(true, "observed on PostgreSQL 18.6"),
        version.choose(
            Fact.of(true, "observed on PostgreSQL 18.6"),
            Fact.of(
                false,
                "https://www.postgresql.org/docs/17/runtime-config-query.html,"
                    + " enable_group_by_reordering: new in 17"),
            17));
  }
}
