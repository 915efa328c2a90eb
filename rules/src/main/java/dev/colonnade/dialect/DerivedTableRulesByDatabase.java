package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

import dev.colonnade.dialect.DerivedTableRules.CommonTables;
import dev.colonnade.dialect.DerivedTableRules.Merged;
import dev.colonnade.dialect.DerivedTableRules.Pushed;

/** The {@link DerivedTableRules} of each supported database, each fact with its source. */
final class DerivedTableRulesByDatabase {
  private static final String POSTGRESQL_RUN = "observed on PostgreSQL 18.6";
  private static final String MARIADB_RUN = "observed on MariaDB 11.4.5";
  private static final String SQLITE_RUN = "observed on SQLite 3.54.1";
  private static final String H2_RUN = "observed on H2 2.5.252";
  private static final String HSQLDB_RUN = "observed on HSQLDB 2.7.4";
  private static final String DERBY_RUN = "observed on Derby 10.16.1.1";

  private DerivedTableRulesByDatabase() {}

  static DerivedTableRules of(Dialect dialect) {
    DatabaseVersion version = dialect.version();
    return switch (dialect.shortName()) {
      case "postgresql" -> postgresql(version);
      case "mysql" -> mysql(version);
      case "mariadb" ->
          new DerivedTableRules(
              Fact.of(Merged.ANY, MARIADB_RUN),
              Fact.of(CommonTables.ANY, MARIADB_RUN),
              Fact.of(Pushed.OWN, MARIADB_RUN));
      case "sqlite" ->
          new DerivedTableRules(
              Fact.of(
                  Merged.RESTRICTED_WHERE_MISSING,
                  "https://www.sqlite.org/optoverview.html, subquery flattening; source select.c,"
                      + " restrictions (3a) and (3d); "
                      + SQLITE_RUN),
              Fact.of(
                  CommonTables.ANY,
                  "https://www.sqlite.org/lang_with.html, materialization hints; " + SQLITE_RUN),
              Fact.of(Pushed.OWN, SQLITE_RUN));
      case "h2" ->
          new DerivedTableRules(
              Fact.of(Merged.NONE, H2_RUN),
              Fact.of(CommonTables.ANY, H2_RUN),
              Fact.of(Pushed.COMPARISONS_AND_JOINS, H2_RUN));
      case "hsqldb" ->
          new DerivedTableRules(
              Fact.of(
                  Merged.ALONE,
                  HSQLDB_RUN + ": in a join, every column of a derived table is read"),
              Fact.of(CommonTables.ANY, HSQLDB_RUN),
              Fact.of(
                  Pushed.OWN_OF_PLAIN,
                  "source, RangeVariable.java, moveConditionsToInner; "
                      + HSQLDB_RUN
                      + " with foodmart"));
      case "derby" ->
          new DerivedTableRules(
              Fact.of(Merged.NONE, DERBY_RUN + ": conditions go inside, but every column is read"),
              Fact.of(CommonTables.NONE, DERBY_RUN + ": syntax error"),
              Fact.of(Pushed.OWN_WITHOUT_WINDOWS, DERBY_RUN + ": none of a join goes inside"));
      case "oracle" ->
          new DerivedTableRules(
              Fact.of(Merged.ANY, "SQL Tuning Guide, view merging, " + MEMORY),
              Fact.of(
                  CommonTables.NAMED_ONCE,
                  "one that is named more often may be kept in a temporary table, " + MEMORY),
              Fact.of(Pushed.OWN, "SQL Tuning Guide, predicate pushing, " + MEMORY));
      case "mssql" ->
          new DerivedTableRules(
              Fact.of(Merged.ANY, "a view is replaced by its definition, " + MEMORY),
              Fact.of(CommonTables.ANY, "like a derived table, " + MEMORY),
              Fact.of(Pushed.OWN, MEMORY));
      case "db2" ->
          new DerivedTableRules(
              Fact.of(Merged.ANY, "query rewriting: view merge, " + MEMORY),
              Fact.of(
                  CommonTables.NAMED_ONCE,
                  "one that is named more often may be kept in a temporary table, " + MEMORY),
              Fact.of(Pushed.OWN, "query rewriting: predicate pushdown, " + MEMORY));
      default ->
          new DerivedTableRules(
              Fact.of(Merged.NONE, CAUTION),
              Fact.of(CommonTables.NONE, CAUTION),
              Fact.of(Pushed.NOTHING, CAUTION));
    };
  }

  private static DerivedTableRules postgresql(DatabaseVersion version) {
    return new DerivedTableRules(
        Fact.of(Merged.ANY, "source prepjointree.c, pull_up_subqueries; " + POSTGRESQL_RUN),
        version.choose(
            Fact.of(
                CommonTables.NAMED_ONCE,
                "https://www.postgresql.org/docs/18/queries-with.html#QUERIES-WITH-CTE-MATERIALIZATION;"
                    + " "
                    + POSTGRESQL_RUN),
            Fact.of(
                CommonTables.NONE,
                "https://www.postgresql.org/docs/release/12.0/: inlined since 12, " + MEMORY),
            12),
        Fact.of(Pushed.OWN, "source allpaths.c, subquery_is_pushdown_safe; " + POSTGRESQL_RUN));
  }

  private static DerivedTableRules mysql(DatabaseVersion version) {
    String manual = "https://dev.mysql.com/doc/refman/8.4/en/";
    return new DerivedTableRules(
        Fact.of(Merged.ANY, manual + "derived-table-optimization.html"),
        Fact.of(CommonTables.ANY, manual + "derived-table-optimization.html"),
        version.choose(
            Fact.of(
                Pushed.OWN, manual + "derived-condition-pushdown-optimization.html, from 8.0.22"),
            Fact.of(
                Pushed.NOTHING,
                manual + "derived-condition-pushdown-optimization.html, before 8.0.22"),
            8,
            0,
            22));
  }
}
