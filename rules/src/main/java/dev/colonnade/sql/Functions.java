package dev.colonnade.sql;

import java.util.Locale;
import java.util.Set;

/**
 * Functions by what they are: which vary from call to call, which aggregate, which need no
 * parentheses.
 */
public final class Functions {
  /**
   * Values that differ from row to row or call to call. Function chapters of the manuals of the
   * supported databases: PostgreSQL 18 section 9 and SQLite "Built-In Scalar SQL Functions"
   * (random, randomblob), MySQL 8.4 section 14 (rand, uuid, sleep), Oracle SQL Reference (sys_guid,
   * dbms_random), SQL Server (newid, rand), Db2, H2, HSQLDB; names from memory.
   */
  private static final Set<String> VARYING =
      Set.of(
          "random",
          "rand",
          "randomblob",
          "random_normal",
          "setseed",
          "uuid",
          "uuid_short",
          "uuidv4",
          "uuidv7",
          "gen_random_uuid",
          "uuid_generate_v1",
          "uuid_generate_v4",
          "random_uuid",
          "sys_guid",
          "newid",
          "newsequentialid",
          "generate_unique",
          "nextval",
          "currval",
          "lastval",
          "setval",
          "last_insert_id",
          "clock_timestamp",
          "timeofday",
          "sleep",
          "pg_sleep",
          "dbms_random.value",
          "dbms_random.string",
          "crypt_gen_random");

  private static final Set<String> AGGREGATES =
      Set.of(
          "count",
          "count_big",
          "sum",
          "total",
          "avg",
          "min",
          "max",
          "every",
          "bool_and",
          "bool_or",
          "bit_and",
          "bit_or",
          "bit_xor",
          "any_value",
          "stddev",
          "stddev_pop",
          "stddev_samp",
          "stdev",
          "stdevp",
          "std",
          "variance",
          "var",
          "varp",
          "var_pop",
          "var_samp",
          "covar_pop",
          "covar_samp",
          "corr",
          "regr_slope",
          "regr_intercept",
          "regr_count",
          "median",
          "mode",
          "percentile_cont",
          "percentile_disc",
          "approx_count_distinct",
          "approx_distinct",
          "group_concat",
          "string_agg",
          "listagg",
          "xmlagg",
          "array_agg",
          "json_agg",
          "jsonb_agg",
          "json_arrayagg",
          "json_objectagg",
          "json_object_agg",
          "jsonb_object_agg",
          "json_group_array",
          "json_group_object",
          "collect",
          "grouping");

  /**
   * Names that mean a value without parentheses (SQL:2016 part 2, section 6.3 and 6.35; Oracle's
   * SYSDATE, SYSTIMESTAMP, UID; all are fixed for a statement).
   */
  private static final Set<String> BARE =
      Set.of(
          "current_date",
          "current_time",
          "current_timestamp",
          "current_user",
          "current_role",
          "current_catalog",
          "current_schema",
          "localtime",
          "localtimestamp",
          "session_user",
          "system_user",
          "sysdate",
          "systimestamp",
          "sessiontimezone",
          "dbtimezone",
          "today",
          "user",
          "uid");

  private static final Set<String> OF_MOMENTS =
      Set.of(
          "datepart",
          "datename",
          "dateadd",
          "datediff",
          "datediff_big",
          "datetrunc",
          "date_trunc",
          "date_bucket",
          "timestampadd",
          "timestampdiff");

  private static final Set<String> UNITS =
      Set.of(
          "year",
          "quarter",
          "month",
          "week",
          "iso_week",
          "isowk",
          "weekday",
          "day",
          "dayofyear",
          "hour",
          "minute",
          "second",
          "millisecond",
          "microsecond",
          "nanosecond",
          "yy",
          "yyyy",
          "qq",
          "mm",
          "wk",
          "ww",
          "dw",
          "dd",
          "dy",
          "hh",
          "mi",
          "ss",
          "ms",
          "mcs",
          "ns",
          "tzoffset");

  private Functions() {}

  /** False for a function whose value differs from row to row or from call to call. */
  public static boolean isDeterministic(String name) {
    return !VARYING.contains(name.toLowerCase(Locale.ROOT));
  }

  /**
   * True for a function that turns many rows into one value. {@code min} and {@code max} of several
   * arguments are no aggregates (SQLite).
   */
  public static boolean isAggregate(String name, int arguments) {
    String folded = name.toLowerCase(Locale.ROOT);
    boolean scalar = arguments > 1 && (folded.equals("min") || folded.equals("max"));
    return AGGREGATES.contains(folded) && !scalar;
  }

  /**
   * True for a bare word that names a unit or a part of a moment in an argument of that function
   * (DATEPART and its like in Transact-SQL; DATEDIFF of H2, TIMESTAMPDIFF of MySQL, all in the
   * first argument; SUBSTRING of Db2, which counts in such units).
   *
   * @param before how many arguments stand before it
   */
  public static boolean isUnit(String function, int before, String word) {
    String folded = word.toLowerCase(Locale.ROOT);
    return function.startsWith("substr")
        ? folded.matches("codeunits(16|32)|octets")
        : before == 0 && OF_MOMENTS.contains(function) && UNITS.contains(folded);
  }

  /** True for a name that is a function although no parentheses follow. */
  public static boolean isBare(String name) {
    return BARE.contains(name.toLowerCase(Locale.ROOT));
  }
}
