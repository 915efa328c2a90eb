package dev.colonnade.dialect;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Storage.Appended;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The facts as the databases' own documents state them, or as observed. The order of the values is
 * that of {@link Dialects#all()}: PostgreSQL, MySQL, MariaDB, Oracle, SQL Server, Db2, SQLite, H2,
 * HSQLDB, Derby.
 */
class DialectsTest {

  private static Stream<Dialect> every() {
    return Stream.concat(Dialects.all().stream(), Stream.of(Dialects.postgresqlBefore18()));
  }

  @ParameterizedTest
  @MethodSource("every")
  void every_fact_has_a_value_and_a_source(Dialect dialect) throws ReflectiveOperationException {
    List<String> without = new ArrayList<>();
    for (Map.Entry<String, Fact<?>> fact : facts(dialect).entrySet()) {
      if (fact.getValue() == null
          || fact.getValue().value() == null
          || fact.getValue().source().isBlank()) {
        without.add(fact.getKey());
      }
    }
    assertThat(without).isEmpty();
    assertThat(facts(dialect)).hasSizeGreaterThan(35);
  }

  @Test
  void databases_are_found_by_the_names_that_liquibase_gives_them() {
    assertThat(Dialects.all())
        .extracting(Dialect::shortName)
        .containsExactly(
            "postgresql",
            "mysql",
            "mariadb",
            "oracle",
            "mssql",
            "db2",
            "sqlite",
            "h2",
            "hsqldb",
            "derby");
    for (Dialect dialect : Dialects.all()) {
      assertThat(Dialects.byShortName(dialect.shortName())).contains(dialect);
    }
    assertThat(Dialects.byShortName(" PostgreSQL ")).contains(Dialects.postgresql());
    assertThat(Dialects.byShortName("postgres")).isEmpty();
    assertThat(Dialects.byShortName("")).isEmpty();
  }

  /** Index made by the database for a foreign key: InnoDB, H2, HSQLDB and Derby only. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "features.foreignKeyIndexed     | false true true false false false false true true true",
        // PostgreSQL any; SQL Server any; Db2 with UNIQUE only; H2 on UNIQUE indexes only
        "features.included              | ANY NONE NONE NONE ANY UNIQUE_ONLY NONE UNIQUE_ONLY NONE"
            + " NONE",
        // PostgreSQL any predicate; SQL Server simple comparisons; SQLite two rules only
        "features.partial               | IMPLICATION NONE NONE NONE IMPLICATION NONE SAME_TERM"
            + " NONE NONE NONE",
        // Oracle function-based, MySQL functional key parts, Db2 key expressions, SQLite 3.9
        "features.expressions           | true true false true false true true false false false",
        // HSQLDB accepts DESC and ignores it; all others store it
        "features.descending            | true true true true true true true true false true",
        // HSQLDB: an index leads to the row
        "features.indexOnly             | true true true true true true true true false true",
        // Oracle: no entry when all key columns are NULL
        "features.storesAllNullKeys     | true true true false true true true true true true",
        // 32 including INCLUDE; 16; 32; 32; 32 from 2016; 64; SQLITE_MAX_COLUMN; table limit; -; 16
        "features.maxKeyColumns         | 32 16 32 32 32 64 2000 16384 2147483647 16",
        // a third of a page; 3072 DYNAMIC; 3072; 6398 (8 KiB); 1700 nonclustered; quarter page
        "features.maxKeyBytes           | 2704 3072 3072 6398 1700 2048 0 0 0 0",
        // H2 and Derby: IN on the first index column only; HSQLDB: later columns only filter
        "matching.inList                | ANY ANY ANY ANY ANY ANY ANY LEADING_LAST LEADING_ALONE"
            + " LEADING",
        "matching.isNull                | true true true true true true true true true true",
        // PostgreSQL also IS NOT NULL; H2 and Derby table scan; HSQLDB from the first non-null
        "matching.isNotNull             | ANY ANY ANY NONE ANY NONE NONE NONE LEADING NONE",
        // PostgreSQL needs C collation or *_pattern_ops; SQLite a NOCASE index in default mode
        "matching.likePrefix            | BYTE_ORDER ALWAYS ALWAYS ALWAYS ALWAYS ALWAYS"
            + " CASE_INSENSITIVE_COLLATION ALWAYS ALWAYS ALWAYS",
        // PostgreSQL 18; MySQL 8.0.13 for a range, covering; Oracle; Db2 jump scan; SQLite ANALYZE
        "matching.skipScan              | FEW_LEADING_VALUES COVERING_RANGE NONE FEW_LEADING_VALUES"
            + " NONE FEW_LEADING_VALUES WITH_STATISTICS NONE NONE NONE",
        // H2 none, one index per table; Derby none, only OR-to-IN
        "matching.orUnion               | true true true true true true true false true false",
        // Db2 LUW; MariaDB inclusive and agreeing; Derby; H2 lists it. Not SQLite, HSQLDB, MySQL
        "matching.endTrim               | false false true false false true false true false true",
        // PostgreSQL: IS NOT DISTINCT FROM is a Filter; MySQL <=>; SQLite IS
        "matching.nullSafeEquality      | false true true false false true true true false false",
        // where f: PostgreSQL, H2 and Derby search by it
        "matching.truthTest             | true false false false false false false true false true",
        // last in ASC on PostgreSQL, Oracle, Db2, Derby
        "ordering.nullsFirst            | false true true false true false true true true false",
        // NULLS FIRST in an index: PostgreSQL, H2; not SQLite
        "ordering.nullsOrderWritable    | true false false false false false false true false"
            + " false",
        // Derby has no backward scan
        "ordering.backward              | true true true true true true true true true false",
        // where a=5 order by b on (a,b) still sorts on H2 and HSQLDB
        "ordering.afterEquality         | true true true true true true true false false true",
        // (a, b, c) serves where b = 5 order by a, c: MySQL's tight index scan; seen on PostgreSQL,
        // Derby
        "ordering.overFiltered          | true true true false false false false false false true",
        // where a is null order by b on (a, b): no sort seen on SQLite, Derby and MariaDB 11.4.5,
        // one on
        // PostgreSQL
        "ordering.nullFixes             | false false true false false false true false false"
            + " true",
        // u.b = v.b order by v.b with u read in order of b: no sort seen on PostgreSQL, nor on
        // MariaDB 11.4.5 where it reads u by that index (where u.b > 3)
        "ordering.throughEquality       | true false true false false false false false false"
            + " false",
        // InnoDB and SQL Server: clustering key; SQLite: rowid; H2: an integer primary key
        "storage.appended               | ROW_ADDRESS PRIMARY_OR_UNIQUE_KEY PRIMARY_OR_UNIQUE_KEY"
            + " ROW_ADDRESS PRIMARY_KEY ROW_ADDRESS INTEGER_PRIMARY_KEY HELD_INTEGER_PRIMARY_KEY"
            + " ROW_ADDRESS ROW_ADDRESS",
        "storage.clusteredByPrimaryKey  | false true true false true false false false false false",
        "storage.pageBytes              | 8192 16384 16384 8192 8192 8192 4096 4096 4096 4096",
      })
  void facts_are_those_of_the_documents(String fact, String values)
      throws ReflectiveOperationException {
    List<String> actual = new ArrayList<>();
    for (Dialect dialect : Dialects.all()) {
      actual.add(facts(dialect).get(fact).value().toString());
    }
    assertThat(actual).containsExactly(values.trim().split(" "));
  }

  /**
   * "From v18 skip scan; earlier: whole index"; order after IN on a later column is lost before 17
   * (release notes 17 and 18).
   */
  @Test
  void postgresql_changed_with_versions_17_and_18() {
    Dialect before = Dialects.postgresqlBefore18();
    assertThat(before.matching().skipScan().value()).isEqualTo(Matching.SkipScan.NONE);
    assertThat(before.ordering().inListKeepsOrder().value())
        .isEqualTo(Ordering.InListOrder.KEPT_ON_LEADING);
    assertThat(before.features()).isEqualTo(Dialects.postgresql().features());
    assertThat(Dialects.postgresql().ordering().inListKeepsOrder().value())
        .isEqualTo(Ordering.InListOrder.KEPT);
  }

  /**
   * SQLite fileformat2 and lang_createtable: INTEGER PRIMARY KEY is the rowid, BIGINT PRIMARY KEY
   * is not; H2: one integer column of any size likewise.
   */
  @Test
  void rows_lie_in_primary_key_order_where_the_key_is_the_row_number() {
    Appended sqlite = Dialects.sqlite().storage().appended().value();
    assertThat(sqlite.isRowNumber("INTEGER", true)).isTrue();
    assertThat(sqlite.isRowNumber("bigint", true)).isFalse();
    assertThat(sqlite.isRowNumber("varchar(9)", false)).isFalse();
    Appended h2 = Dialects.h2().storage().appended().value();
    assertThat(h2.isRowNumber("bigint", true)).isTrue();
    assertThat(h2.isRowNumber("varchar(9)", false)).isFalse();
    assertThat(Dialects.sqlite().storage().keepsRowsInPrimaryKeyOrder(false)).isFalse();
    assertThat(Dialects.mysql().storage().keepsRowsInPrimaryKeyOrder(false)).isTrue();
    assertThat(Dialects.postgresql().storage().appended().value().isRowNumber("integer", true))
        .isFalse();
  }

  static Map<String, Fact<?>> facts(Dialect dialect) throws ReflectiveOperationException {
    Map<String, Fact<?>> facts = new TreeMap<>();
    collect("storage", dialect.storage(), facts);
    collect("features", dialect.features(), facts);
    collect("matching", dialect.matching(), facts);
    collect("ordering", dialect.ordering(), facts);
    return facts;
  }

  private static void collect(String prefix, Record group, Map<String, Fact<?>> into)
      throws ReflectiveOperationException {
    for (RecordComponent component : group.getClass().getRecordComponents()) {
      into.put(prefix + "." + component.getName(), (Fact<?>) component.getAccessor().invoke(group));
    }
  }
}
