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

/** MySQL and MariaDB, both with InnoDB tables. */
final class InnoDb {
  private static final String MYSQL = "https://dev.mysql.com/doc/refman/8.4/en/";
  private static final String MARIADB = "mariadb-docs @97b0d93e, ";
  private static final String PAGE0PAGE = "storage/innobase/include/page0page.h";

  private InnoDb() {}

  static Dialect mysql(DatabaseVersion version) {
    return new Dialect(
        "mysql",
        "MySQL",
        version,
        storage(MYSQL + "index-extensions.html", MYSQL + "innodb-index-types.html"),
        mysqlFeatures(version),
        mysqlMatching(version),
        ordering(
            Fact.of(true, MYSQL + "working-with-null.html"),
            MYSQL + "order-by-optimization.html",
            MYSQL + "order-by-optimization.html",
            Fact.of(true, MYSQL + "group-by-optimization.html, tight index scan"),
            Fact.of(false, CAUTION),
            Fact.of(false, CAUTION)));
  }

  static Dialect mariadb(DatabaseVersion version) {
    return new Dialect(
        "mariadb",
        "MariaDB",
        version,
        storage(
            MARIADB + "query-optimizer/extended-keys.md",
            "the primary key is the clustered index, " + MEMORY),
        mariadbFeatures(version),
        mariadbMatching(),
        ordering(
            Fact.of(true, "NULL is lowest, " + MEMORY),
            MEMORY,
            MARIADB + "building-the-best-index-for-a-given-select.md",
            Fact.of(true, "observed on MariaDB 11.4.5"),
            Fact.of(true, "observed on MariaDB 11.4.5: \"ref\" to NULL is one to a constant"),
            Fact.of(true, "observed on MariaDB 11.4.5")));
  }

  private static Storage storage(String extended, String clustered) {
    return new Storage(
        Fact.of(16384, MYSQL + "innodb-physical-structure.html"),
        Fact.of(16256, "records start at byte 120 and the trailer takes 8, " + PAGE0PAGE),
        Fact.of(0.9375, "15/16 when filled in order, " + MYSQL + "innodb-physical-structure.html"),
        Fact.of(0.9375, "15/16 when filled in order, " + MYSQL + "innodb-physical-structure.html"),
        Fact.of(6, "record header of 5 and a byte of NULL flags, " + MEMORY),
        Fact.of(0, "one directory slot of 2 bytes for 4 to 8 records, left out, " + MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(
            19, "record header of 5, NULL flags 1, transaction id 6 and roll pointer 7, " + MEMORY),
        Fact.of(
            Appended.PRIMARY_OR_UNIQUE_KEY,
            extended
                + "; "
                + MYSQL
                + "innodb-index-types.html, \"Clustered and Secondary Indexes\""),
        Fact.of(true, clustered),
        Fact.of(SharedEntries.NONE, "one row an entry, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures mysqlFeatures(DatabaseVersion version) {
    return new IndexFeatures(
        Fact.of(Included.NONE, MEMORY),
        Fact.of(Partial.NONE, MEMORY),
        version.choose(
            Fact.of(true, "functional key parts, 8.0.13 and later, " + MEMORY),
            Fact.of(false, "before 8.0.13 through generated columns only, " + MEMORY),
            8,
            0,
            13),
        version.choose(
            Fact.of(true, MYSQL + "descending-indexes.html, 8.0 and later"),
            Fact.of(
                false,
                "https://dev.mysql.com/doc/refman/5.7/en/create-index.html: DESC is read and"
                    + " ignored"),
            8),
        Fact.of(true, MYSQL + "mysql-indexes.html"),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MYSQL + "create-table-foreign-keys.html, " + MEMORY),
        Fact.of(16, MYSQL + "multiple-column-indexes.html"),
        Fact.of(3072, MYSQL + "innodb-limits.html, row formats DYNAMIC and COMPRESSED"),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static IndexFeatures mariadbFeatures(DatabaseVersion version) {
    return new IndexFeatures(
        Fact.of(Included.NONE, MEMORY),
        Fact.of(Partial.NONE, MEMORY),
        Fact.of(false, "through generated columns only, " + MEMORY),
        version.choose(
            Fact.of(true, "10.8 and later, " + MEMORY),
            Fact.of(false, "before 10.8 DESC is read and ignored, " + MEMORY),
            10,
            8),
        Fact.of(true, MARIADB + "building-the-best-index-for-a-given-select.md"),
        Fact.of(false, "no expression indexes, " + MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(true, MARIADB + "foreign-key-constraints.md"),
        Fact.of(32, MARIADB + "innodb-limitations.md"),
        Fact.of(3072, MARIADB + "innodb-limitations.md, pages of 16 KiB"),
        Fact.of(PredicateCover.NONE, "no partial indexes"));
  }

  private static Matching mysqlMatching(DatabaseVersion version) {
    String range = MYSQL + "range-optimization.html";
    return new Matching(
        Fact.of(InListPosition.ANY, range),
        Fact.of(true, MYSQL + "is-null-optimization.html"),
        Fact.of(NotNullPosition.ANY, range),
        Fact.of(LikePrefix.ALWAYS, MYSQL + "index-btree-hash.html"),
        Fact.of(RowBound.NONE, MYSQL + "row-constructor-optimization.html, " + MEMORY),
        Fact.of(true, range),
        version.choose(
            Fact.of(SkipScan.COVERING_RANGE, range + ", 8.0.13 and later"),
            Fact.of(SkipScan.NONE, range + ", before 8.0.13"),
            8,
            0,
            13),
        Fact.of(true, MYSQL + "index-merge-optimization.html"),
        Fact.of(true, range),
        Fact.of(Screening.ANY_PREDICATE, MYSQL + "index-condition-pushdown-optimization.html"),
        Fact.of(true, range),
        Fact.of(false, "a bare column is not an equality, " + MEMORY),
        Fact.of(false, range),
        Fact.of(true, range + ": <> is two ranges"),
        Fact.of(
            true,
            "\"ref\" takes equalities, \"range\" takes constants,"
                + " https://dev.mysql.com/doc/refman/8.4/en/explain-output.html; observed on"
                + " MariaDB 11.4.5"),
        Fact.of(
            Carried.CONDITIONS,
            "observed on MariaDB 11.4.5; for MySQL, "
                + "https://dev.mysql.com/doc/refman/8.4/en/constant-propagation-optimization.html"),
        Fact.of(true, "observed on MariaDB 11.4.5"));
  }

  private static Matching mariadbMatching() {
    String range = MARIADB + "query-optimizer/range-optimizer.md";
    return new Matching(
        Fact.of(InListPosition.ANY, range),
        Fact.of(true, range),
        Fact.of(NotNullPosition.ANY, range),
        Fact.of(LikePrefix.ALWAYS, MEMORY),
        Fact.of(RowBound.NONE, CAUTION),
        Fact.of(true, "observed on MariaDB 11.4.5"),
        Fact.of(SkipScan.NONE, MARIADB + "no page mentions one"),
        Fact.of(true, MARIADB + "query-optimizer/index_merge-sort_intersection.md and " + MEMORY),
        Fact.of(true, range),
        Fact.of(Screening.ANY_PREDICATE, MARIADB + "query-optimizer/index-condition-pushdown.md"),
        Fact.of(true, MEMORY),
        Fact.of(false, "a bare column is not an equality, " + MEMORY),
        Fact.of(true, range),
        Fact.of(true, "observed on MariaDB 11.4.5: <> is two ranges"),
        Fact.of(
            true,
            "\"ref\" takes equalities, \"range\" takes constants; observed on MariaDB 11.4.5"),
        Fact.of(
            Carried.CONDITIONS,
            "observed on MariaDB 11.4.5; for MySQL, "
                + "https://dev.mysql.com/doc/refman/8.4/en/constant-propagation-optimization.html"),
        Fact.of(true, "observed on MariaDB 11.4.5"));
  }

  private static Ordering ordering(
      Fact<Boolean> nullsFirst,
      String backward,
      String equality,
      Fact<Boolean> overFiltered,
      Fact<Boolean> nullFixes,
      Fact<Boolean> throughEquality) {
    return new Ordering(
        nullsFirst,
        Fact.of(false, MEMORY),
        Fact.of(true, backward),
        Fact.of(true, equality),
        overFiltered,
        nullFixes,
        throughEquality,
        Fact.of(InListOrder.KEPT, "ranges are read in the order of the index, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(GroupDirection.UNIFORM, "observed on MariaDB 11.4.5"),
        Fact.of(false, CAUTION),
        Fact.of(true, "observed on MariaDB 11.4.5"),
        Fact.of(true, "observed on MariaDB 11.4.5"),
        Fact.of(false, "observed on MariaDB 11.4.5"));
  }
}
