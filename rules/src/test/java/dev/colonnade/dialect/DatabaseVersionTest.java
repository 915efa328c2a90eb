package dev.colonnade.dialect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Facts on both sides of the version that changed them; the versions are those of the makers'
 * release notes and manuals, or observed as the facts' sources say.
 */
class DatabaseVersionTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        // indexes-multicolumn.html of PostgreSQL 17 and 18: skip scan is new in 18
        "postgresql | 17      | matching.skipScan              | NONE",
        "postgresql | 18      | matching.skipScan              | FEW_LEADING_VALUES",
        "postgresql | 18.1    | matching.skipScan              | FEW_LEADING_VALUES",
        // PostgreSQL 11, release notes: INCLUDE
        "postgresql | 10.23   | features.included              | NONE",
        "postgresql | 9.6     | features.included              | NONE",
        "postgresql | 11      | features.included              | ANY",
        "postgresql | 15.4    | features.included              | ANY",
        "postgresql | 16.9    | ordering.inListKeepsOrder      | KEPT_ON_LEADING",
        "postgresql | 17      | ordering.inListKeepsOrder      | KEPT",
        // runtime-config-query.html of 17: enable_group_by_reordering
        "postgresql | 16      | ordering.groupTermsInAnyOrder  | false",
        "postgresql | 17.0    | ordering.groupTermsInAnyOrder  | true",
        // MySQL 5.7, create-index.html: DESC is parsed but ignored; 8.4, descending-indexes.html
        "mysql      | 5.7.44  | features.descending            | false",
        "mysql      | 8.0.11  | features.descending            | true",
        "mysql      | 8.0.12  | features.expressions           | false",
        "mysql      | 8.0.13  | features.expressions           | true",
        "mysql      | 8.0     | features.expressions           | true",
        "mysql      | 8       | features.expressions           | true",
        "mysql      | 8.4.3   | features.expressions           | true",
        "mysql      | 5.7     | matching.skipScan              | NONE",
        "mysql      | 8.0.12  | matching.skipScan              | NONE",
        "mysql      | 8.0.36  | matching.skipScan              | COVERING_RANGE",
        // MariaDB 10.8, release notes: descending indexes
        "mariadb    | 10.6.18 | features.descending            | false",
        "mariadb    | 10.8    | features.descending            | true",
        "mariadb    | 10.11.6 | features.descending            | true",
        "mariadb    | 11.4    | features.descending            | true",
        "sqlite     | 3.8.11  | features.expressions           | false",
        "sqlite     | 3.9.0   | features.expressions           | true",
        "sqlite     | 3.14    | matching.rowComparison         | NONE",
        "sqlite     | 3.43.2  | features.predicateCovers       | NONE",
        "sqlite     | 3.44.1  | features.predicateCovers       | EQUALITIES",
        "sqlite     | 3.47.2  | features.expressionCoversItself | false",
        "sqlite     | 3.49.1  | features.expressionCoversItself | true",
        "mssql      | 2014    | features.maxKeyColumns         | 16",
        "mssql      | 2016    | features.maxKeyColumns         | 32",
        "mssql      | 2012    | features.maxKeyBytes           | 900",
        "db2        | 10.1    | features.expressions           | false",
        "db2        | 11.5    | features.expressions           | true",
        "db2        | 9.7     | matching.skipScan              | NONE",
        "h2         | 1.4.200 | features.included              | NONE",
        "h2         | 2.0.206 | features.included              | UNIQUE_ONLY",
        "oracle     | 19c     | matching.skipScan              | FEW_LEADING_VALUES",
        "oracle     | 23ai    | features.descending            | true",
        "oracle     | 12.2    | features.descending            | true",
        "hsqldb     | 2.7.4   | features.indexOnly             | false",
        "derby      | 10.16   | ordering.backward              | false",
      })
  void a_fact_is_that_of_the_version(String database, String version, String fact, String value)
      throws ReflectiveOperationException {
    Dialect dialect = Dialects.atVersion(Dialects.byShortName(database).orElseThrow(), version);
    assertThat(dialect.version()).hasToString(version);
    assertThat(dialect.shortName()).isEqualTo(database);
    assertThat(DialectsTest.facts(dialect).get(fact).value()).hasToString(value);
  }

  /** MySQL 9.0.0, release notes (from memory): inline foreign keys are no longer ignored. */
  @ParameterizedTest
  @CsvSource({"mysql,8.4,false", "mysql,9.1,true", "mariadb,10.5,true", "postgresql,12,true"})
  void references_behind_a_column_make_a_key(String database, String version, boolean make) {
    Dialect dialect = Dialects.atVersion(Dialects.byShortName(database).orElseThrow(), version);
    assertThat(StatementRules.of(dialect).columnForeignKeys().value()).isEqualTo(make);
  }

  /** The last line of each database that is known has the facts that are meant by none. */
  @ParameterizedTest
  @CsvSource({
    "postgresql,18",
    "mysql,9",
    "mariadb,12",
    "oracle,26ai",
    "mssql,2025",
    "db2,12",
    "sqlite,3",
    "h2,2",
    "hsqldb,2",
    "derby,10"
  })
  void without_a_version_the_newest_is_meant(String database, String newest)
      throws ReflectiveOperationException {
    Dialect dialect = Dialects.byShortName(database).orElseThrow();
    assertThat(DialectsTest.facts(dialect))
        .isEqualTo(DialectsTest.facts(Dialects.atVersion(dialect, newest)));
    assertThat(dialect.version()).isEqualTo(DatabaseVersion.NEWEST);
  }

  @ParameterizedTest
  @CsvSource({
    "postgresql,fifteen",
    "postgresql,''",
    "postgresql,15.",
    "postgresql,v15",
    "postgresql,15-1",
    "mysql,8.0.x",
    "oracle,19cc",
    "postgresql,99999999999"
  })
  void what_is_no_version_is_told(String database, String version) {
    Dialect dialect = Dialects.byShortName(database).orElseThrow();
    assertThatThrownBy(() -> Dialects.atVersion(dialect, version))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("'" + version + "' is not a version; write it as 15, 15.4, 8.0.36 or 19c");
  }

  @ParameterizedTest
  @CsvSource({
    "postgresql,9.5",
    "postgresql,150",
    "postgresql,15c",
    "mysql,6",
    "mysql,5.6.51",
    "mariadb,5.5",
    "mariadb,10.1",
    "oracle,20",
    "mssql,15",
    "db2,9.5",
    "sqlite,2",
    "h2,3",
    "derby,11"
  })
  void a_version_without_facts_is_told(String database, String version) {
    Dialect dialect = Dialects.byShortName(database).orElseThrow();
    assertThatThrownBy(() -> Dialects.atVersion(dialect, version))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageStartingWith(
            "'" + version + "' is not a version of " + dialect.displayName() + " that is known");
  }

  @Test
  void the_known_versions_are_named() {
    assertThatThrownBy(() -> Dialects.atVersion(Dialects.mysql(), "5.6"))
        .hasMessage(
            "'5.6' is not a version of MySQL that is known here (5.7 and later, 8, 9);"
                + " leave it out for the newest");
  }
}
