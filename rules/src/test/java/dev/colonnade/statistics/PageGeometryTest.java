package dev.colonnade.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.dialect.Dialects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * PostgreSQL's numbers: fill factors of src/include/access/nbtree.h, pages as counted in
 * pg_class.relpages on PostgreSQL 15.18 for freshly built indexes with deduplicate_items off.
 */
class PageGeometryTest {
  private final PageGeometry postgresql = new PageGeometry(Dialects.postgresql().storage());

  @ParameterizedTest(name = "{0}")
  @CsvSource({
    // key, entries, data, pivot data, item, per leaf, per inner, leaves, height, total pages
    "int4, 1000000, 4, 4, 16, 366, 284, 2733, 2, 2745",
    "int8 and int8, 1000000, 16, 8, 24, 261, 284, 3832, 2, 3848",
    "text of 20, 1000000, 21, 21, 32, 203, 158, 4927, 2, 4961",
    "int4, 100000, 4, 4, 16, 366, 284, 274, 1, 276",
    "int4 and int8, 200000, 16, 8, 24, 261, 284, 767, 2, 772",
    "uuid, 100000, 16, 16, 24, 261, 203, 384, 2, 388",
    // computed, not run
    "int8, 10000000, 8, 8, 16, 366, 284, 27323, 2, 27422",
  })
  void pages_of_a_btree(
      String key,
      double entries,
      double data,
      double pivotData,
      double item,
      double perLeaf,
      double perInner,
      double leaves,
      int height,
      double pages) {
    IndexSize size = postgresql.index(entries, data, pivotData, Confidence.DERIVED);
    assertThat(size.entryBytes()).isEqualTo(item);
    assertThat(size.entriesPerLeaf()).isEqualTo(perLeaf);
    assertThat(postgresql.innerCapacity(postgresql.entryBytes(pivotData))).isEqualTo(perInner);
    assertThat(size.leafPages()).isEqualTo(leaves);
    assertThat(size.height()).isEqualTo(height);
    assertThat(size.totalPages()).isEqualTo(pages);
  }

  /**
   * Rows with the same key share entries. Keys and rows as in the TPC-H tables at scale 0.01; pages
   * as counted in pg_class.relpages on PostgreSQL 18.6 for indexes built over the rows.
   */
  @ParameterizedTest(name = "{0}")
  @CsvSource({
    // key, rows, different keys, data, total pages
    "partsupp(ps_suppkey) int8, 8000, 100, 8, 9",
    "orders(o_orderdate) date, 15000, 2401, 4, 22",
    "orders(o_clerk) text of 15, 15000, 1000, 16, 19",
    "'lineitem(l_partkey, l_suppkey) two int8', 60175, 8000, 16, 85",
  })
  void pages_of_a_btree_whose_entries_list_several_rows(
      String key, double rows, double keys, double data, double pages) {
    IndexSize size = postgresql.sharing(rows, keys, data, data, Confidence.DERIVED);
    assertThat(size.totalPages()).isCloseTo(pages, within(1.0));
    assertThat(size.totalPages())
        .isLessThan(postgresql.index(rows, data, data, Confidence.DERIVED).totalPages() / 1.5);
  }

  /** Nothing is shared where no two rows have the same key, nor by version 12. */
  @Test
  void entries_of_their_own_where_nothing_is_shared() {
    IndexSize own = postgresql.index(100_000, 8, 8, Confidence.DERIVED);
    assertThat(postgresql.sharing(100_000, 100_000, 8, 8, Confidence.DERIVED)).isEqualTo(own);
    PageGeometry before =
        new PageGeometry(Dialects.atVersion(Dialects.postgresql(), "12").storage());
    assertThat(before.sharing(100_000, 10, 8, 8, Confidence.DERIVED)).isEqualTo(own);
  }

  /** BTMaxItemSize: 2704 with the row's address in the key, 2712 without; 5432 for 16 KiB. */
  @Test
  void largest_item_is_a_third_of_a_page() {
    assertThat(PageGeometry.largestPostgresqlItem(8192, true)).isEqualTo(2704);
    assertThat(PageGeometry.largestPostgresqlItem(8192, false)).isEqualTo(2712);
    assertThat(PageGeometry.largestPostgresqlItem(16384, true)).isEqualTo(5432);
    assertThat(Dialects.postgresql().features().maxKeyBytes().value())
        .isEqualTo(PageGeometry.largestPostgresqlItem(8192, true));
  }

  /** 100,000 rows of one int4: 226 a page, 443 pages in pg_class on PostgreSQL 15.18. */
  @Test
  void pages_of_a_table() {
    assertThat(postgresql.rowsPerPage(4)).isEqualTo(226);
    assertThat(postgresql.tablePages(100_000, 4)).isEqualTo(443);
    assertThat(postgresql.tablePages(0, 4)).isEqualTo(1);
    assertThat(postgresql.tablePages(10, 50_000)).isEqualTo(10);
  }

  @Test
  void a_stretch_lies_on_as_many_leaf_pages_as_it_fills() {
    IndexSize size = postgresql.index(100_000, 4, 4, Confidence.DERIVED);
    assertThat(size.leafPagesFor(0)).isZero();
    assertThat(size.leafPagesFor(1)).isEqualTo(1);
    assertThat(size.leafPagesFor(366)).isEqualTo(1);
    assertThat(size.leafPagesFor(367)).isEqualTo(2);
    assertThat(size.leafPagesFor(1e9)).isEqualTo(274);
    assertThat(size.pagesOfDescent()).isEqualTo(2);
  }

  /** An InnoDB table is its primary key's tree; the rows are the leaves. */
  @Test
  void a_clustered_table_has_its_rows_as_leaves() {
    PageGeometry innodb = new PageGeometry(Dialects.mysql().storage());
    IndexSize size = innodb.clustered(100_000, 100, 8, Confidence.DERIVED);
    assertThat(size.leafPages()).isEqualTo(innodb.tablePages(100_000, 100));
    assertThat(size.height()).isEqualTo(1);
    assertThat(innodb.rowsPerPage(100)).isEqualTo(136);
  }

  @Test
  void every_database_ends_its_tree() {
    for (var dialect : Dialects.all()) {
      PageGeometry geometry = new PageGeometry(dialect.storage());
      IndexSize huge = geometry.index(1e9, 5_000, 5_000, Confidence.ASSUMED);
      assertThat(huge.height()).as(dialect.shortName()).isBetween(1, 40);
      IndexSize empty = geometry.index(0, 8, 8, Confidence.ASSUMED);
      assertThat(empty.leafPages()).as(dialect.shortName()).isEqualTo(1);
      assertThat(empty.height()).as(dialect.shortName()).isZero();
    }
  }
}
