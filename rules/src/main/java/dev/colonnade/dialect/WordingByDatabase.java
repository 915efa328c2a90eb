package dev.colonnade.dialect;

import static java.util.Map.entry;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * The {@link Wording} of each supported database: what differs from the standard's forms.
 *
 * <p>Sources: SQL:2016 for the standard's forms; "Functions and Operators" of the PostgreSQL 18
 * documentation; "Functions and Operators" of the MySQL 8.4 and "Built-in Functions" of the MariaDB
 * manual; "SQL Language Reference" of Oracle 19c; "Transact-SQL reference"; "SQL reference" of Db2
 * 11.5; "Built-In Scalar Functions", "Date And Time Functions" of SQLite; "Functions" of H2;
 * chapter "Built In Functions" of the HSQLDB guide; "Derby Reference Manual". Where these leave a
 * choice, the form is that of Hibernate ORM 7.4's dialect class for the database. The forms for H2,
 * HSQLDB, SQLite and Derby are prepared by these databases in the tests, those for PostgreSQL and
 * MariaDB where a server is at hand; the others' are from memory where no test says more.
 */
final class WordingByDatabase {
  /** In the place of a form that the standard has and a database has not. */
  private static final String NONE = "-";

  private static final Map<Word, String> STANDARD =
      Map.ofEntries(
          entry(Word.TRUE, "true"),
          entry(Word.FALSE, "false"),
          entry(Word.QUOTE_OPEN, "\""),
          entry(Word.QUOTE_CLOSE, "\""),
          entry(Word.CONCAT, "($0)"),
          entry(Word.CONCAT_BETWEEN, " || "),
          entry(Word.LENGTH, "length($0)"),
          entry(Word.LOCATE, "locate($0, $1)"),
          entry(Word.LOCATE_FROM, "locate($0, $1, $2)"),
          entry(Word.SUBSTRING, "substring($0, $1)"),
          entry(Word.SUBSTRING_FOR, "substring($0, $1, $2)"),
          entry(Word.LEFT, "left($0, $1)"),
          entry(Word.RIGHT, "right($0, $1)"),
          entry(Word.LPAD, "lpad($0, $1, $2)"),
          entry(Word.RPAD, "rpad($0, $1, $2)"),
          entry(Word.MOD, "mod($0, $1)"),
          entry(Word.CEILING, "ceiling($0)"),
          entry(Word.TRUNCATE, "trunc($0, $1)"),
          entry(Word.TRUNCATE_WHOLE, "trunc($0)"),
          entry(Word.CURRENT_DATE, "current_date"),
          entry(Word.CURRENT_TIME, "current_time"),
          entry(Word.CURRENT_TIMESTAMP, "current_timestamp"),
          entry(Word.LOCAL_DATETIME, "localtimestamp"),
          entry(Word.EXTRACT, "extract($0 from $1)"),
          entry(Word.QUARTER, "extract(quarter from $0)"),
          entry(Word.WEEK, "extract(week from $0)"),
          entry(Word.EPOCH, "extract(epoch from $0)"),
          entry(Word.DAY_OF_WEEK, "dayofweek($0)"),
          entry(Word.DAY_OF_YEAR, "dayofyear($0)"),
          entry(Word.MOMENT, "$0 $1"),
          entry(Word.LISTAGG, "listagg($0, $1)"),
          entry(Word.LISTAGG_ORDERED, "listagg($0, $1) within group ($2)"),
          entry(Word.EVERY, "min(case when $0 then 1 else 0 end)"),
          entry(Word.ANY, "max(case when $0 then 1 else 0 end)"),
          entry(Word.TEXT_TYPE, "varchar(255)"),
          entry(Word.CAST_TO_TEXT, "cast($0 as varchar(255))"),
          entry(Word.INTEGER_TYPE, "integer"),
          entry(Word.BIGINT_TYPE, "bigint"),
          entry(Word.DOUBLE_TYPE, "double precision"),
          entry(Word.TIMESTAMP_TYPE, "timestamp"),
          entry(Word.ILIKE, "lower($0) like lower($1)"),
          entry(Word.NOT_ILIKE, "lower($0) not like lower($1)"),
          entry(Word.NULLS_FIRST, "$1 nulls first"),
          entry(Word.NULLS_LAST, "$1 nulls last"),
          entry(Word.ROW_LIST, "row"),
          entry(Word.LIMIT, " fetch first $0 rows only"),
          entry(Word.OFFSET, " offset $0 rows"),
          entry(Word.LIMIT_OFFSET, " offset $1 rows fetch first $0 rows only"),
          entry(Word.UNORDERED, ""),
          entry(Word.RECURSIVE, "recursive "),
          entry(Word.EXCEPT, "except"));

  /** LIMIT and OFFSET as PostgreSQL has them, which several others took over. */
  private static final Map<Word, String> LIMITS =
      Map.of(
          Word.LIMIT, " limit $0",
          Word.OFFSET, " offset $0",
          Word.LIMIT_OFFSET, " limit $0 offset $1");

  private static final Map<Word, String> NULLS =
      Map.of(
          Word.NULLS_FIRST, "case when ($0) is null then 0 else 1 end, $1",
          Word.NULLS_LAST, "case when ($0) is null then 1 else 0 end, $1");

  private static final Wording POSTGRESQL =
      wording(
          Optional.of(false),
          Optional.empty(),
          LIMITS,
          Map.ofEntries(
              entry(Word.LOCATE, "position($0 in $1)"),
              entry(Word.LOCATE_FROM, "strpos(substring($1, $2), $0)"),
              entry(Word.CURRENT_TIME, "localtime"),
              entry(Word.CURRENT_TIMESTAMP, "localtimestamp"),
              entry(Word.DAY_OF_WEEK, "(extract(dow from $0) + 1)"),
              entry(Word.DAY_OF_YEAR, "extract(doy from $0)"),
              entry(Word.TRUNCATE_MOMENT, "date_trunc('$0', $1)"),
              entry(Word.MOVED, "cast($0 + ($1) * interval '1 $2' as timestamp)"),
              entry(Word.DIFFERENCE, "extract($2 from ($1 - $0))"),
              entry(Word.DIFFERENCE_MONTHS, "extract($2 from age($1, $0))"),
              entry(Word.FORMAT, "to_char($0, $1)"),
              entry(Word.LISTAGG, "string_agg($0, $1)"),
              entry(Word.LISTAGG_ORDERED, "string_agg($0, $1 $2)"),
              entry(Word.EVERY, "bool_and($0)"),
              entry(Word.ANY, "bool_or($0)"),
              entry(Word.TEXT_TYPE, "varchar"),
              entry(Word.CAST_TO_TEXT, "cast($0 as varchar)"),
              entry(Word.ILIKE, "$0 ilike $1"),
              entry(Word.NOT_ILIKE, "$0 not ilike $1"),
              entry(Word.ROW_COMPARISON, "row"),
              entry(Word.WITH_TIES, " fetch first $0 rows with ties"),
              entry(Word.ON_CONFLICT, " on conflict$0 do $1")));

  private static final Map<Word, String> OF_MYSQL =
      Map.ofEntries(
          entry(Word.QUOTE_OPEN, "`"),
          entry(Word.QUOTE_CLOSE, "`"),
          entry(Word.CONCAT, "concat($0)"),
          entry(Word.CONCAT_BETWEEN, ", "),
          entry(Word.LENGTH, "char_length($0)"),
          entry(Word.TRUNCATE, "truncate($0, $1)"),
          entry(Word.TRUNCATE_WHOLE, "truncate($0, 0)"),
          entry(Word.EXTRACT, "$0($1)"),
          entry(Word.QUARTER, "quarter($0)"),
          entry(Word.EPOCH, "unix_timestamp($0)"),
          entry(Word.MOVED, "timestampadd($2, $1, $0)"),
          entry(Word.ROW_COMPARISON, "row"),
          entry(Word.GROUP_BY_KEY, "row"),
          entry(Word.NULLS_FIRST, NULLS.get(Word.NULLS_FIRST)),
          entry(Word.NULLS_LAST, NULLS.get(Word.NULLS_LAST)),
          entry(Word.DIFFERENCE, "timestampdiff($2, $0, $1)"),
          entry(Word.FORMAT, "date_format($0, $1)"),
          entry(Word.LISTAGG, "group_concat($0 separator $1)"),
          entry(Word.LISTAGG_ORDERED, "group_concat($0 $2 separator $1)"),
          entry(Word.TEXT_TYPE, "char"),
          entry(Word.CAST_TO_TEXT, "cast($0 as char)"),
          entry(Word.INTEGER_TYPE, "signed"),
          entry(Word.BIGINT_TYPE, "signed"),
          entry(Word.DOUBLE_TYPE, "double"),
          entry(Word.TIMESTAMP_TYPE, "datetime"),
          entry(Word.OFFSET, " limit 18446744073709551615 offset $0"));

  private static final Wording MYSQL =
      wording(Optional.empty(), Optional.of(true), LIMITS, OF_MYSQL);

  private static final Wording H2 =
      wording(
          Optional.of(true),
          Optional.empty(),
          LIMITS,
          Map.ofEntries(
              entry(Word.CURRENT_TIME, "localtime"),
              entry(Word.CURRENT_TIMESTAMP, "localtimestamp"),
              entry(Word.ROW_COMPARISON, "row"),
              entry(Word.GROUP_BY_KEY, "row"),
              entry(Word.TRUNCATE_MOMENT, "date_trunc('$0', $1)"),
              entry(Word.MOVED, "dateadd($2, $1, $0)"),
              entry(Word.DIFFERENCE, "datediff($2, $0, $1)"),
              entry(Word.FORMAT, "formatdatetime($0, $1)"),
              entry(Word.EVERY, "bool_and($0)"),
              entry(Word.ANY, "bool_or($0)"),
              entry(Word.TEXT_TYPE, "varchar"),
              entry(Word.CAST_TO_TEXT, "cast($0 as varchar)"),
              entry(Word.ILIKE, "$0 ilike $1"),
              entry(Word.NOT_ILIKE, "$0 not ilike $1"),
              entry(Word.WITH_TIES, " fetch first $0 rows with ties")));

  private static final Wording HSQLDB =
      wording(
          Optional.of(true),
          Optional.empty(),
          LIMITS,
          Map.ofEntries(
              entry(Word.CURRENT_TIMESTAMP, "localtimestamp"),
              entry(Word.QUARTER, "quarter($0)"),
              entry(Word.WEEK, "extract(week_of_year from $0)"),
              entry(Word.EPOCH, "unix_timestamp($0)"),
              entry(Word.DAY_OF_WEEK, "extract(day_of_week from $0)"),
              entry(Word.DAY_OF_YEAR, "extract(day_of_year from $0)"),
              entry(Word.TRUNCATE_MOMENT, "trunc($1, '$0')"),
              entry(Word.MOVED, "dateadd('$2', $1, $0)"),
              entry(Word.DIFFERENCE, "datediff('$2', $0, $1)"),
              entry(Word.FORMAT, "to_char($0, $1)"),
              entry(Word.LISTAGG, "group_concat($0 separator $1)"),
              entry(Word.LISTAGG_ORDERED, "group_concat($0 $2 separator $1)"),
              entry(Word.EVERY, "every($0)"),
              entry(Word.ANY, "some($0)")));

  private static final String FILL = "replace(hex(zeroblob($1)), '00', $2)";

  private static final Wording SQLITE =
      wording(
          Optional.empty(),
          Optional.empty(),
          LIMITS,
          Map.ofEntries(
              entry(Word.ROW_COMPARISON, "row"),
              entry(Word.LOCAL_DATETIME, "datetime('now', 'localtime')"),
              entry(Word.LOCATE, "instr($1, $0)"),
              entry(Word.LOCATE_FROM, "instr(substr($1, $2), $0)"),
              entry(Word.SUBSTRING, "substr($0, $1)"),
              entry(Word.SUBSTRING_FOR, "substr($0, $1, $2)"),
              entry(Word.LEFT, "substr($0, 1, $1)"),
              entry(Word.RIGHT, "substr($0, length($0) - $1 + 1)"),
              entry(Word.LPAD, "substr(" + FILL + " || $0, -$1)"),
              entry(Word.RPAD, "substr($0 || " + FILL + ", 1, $1)"),
              entry(Word.MOD, "($0 % $1)"),
              entry(Word.CEILING, "ceil($0)"),
              entry(Word.EXTRACT, "strftime('%$0', $1)"),
              entry(Word.QUARTER, "((strftime('%m', $0) + 2) / 3)"),
              entry(Word.WEEK, "strftime('%W', $0)"),
              entry(Word.EPOCH, "strftime('%s', $0)"),
              entry(Word.DAY_OF_WEEK, "(strftime('%w', $0) + 1)"),
              entry(Word.DAY_OF_YEAR, "strftime('%j', $0)"),
              entry(Word.MOVED, "datetime($0, ($1) || ' $2')"),
              entry(Word.DIFFERENCE, "(julianday($1) - julianday($0))"),
              entry(Word.FORMAT, "strftime($1, $0)"),
              entry(Word.MOMENT, "$1"),
              entry(Word.LISTAGG, "group_concat($0, $1)"),
              entry(Word.LISTAGG_ORDERED, "group_concat($0, $1)"),
              entry(Word.OFFSET, " limit -1 offset $0"),
              entry(Word.ON_CONFLICT, " on conflict$0 do $1")));

  private static final Wording ORACLE =
      wording(
          Optional.of(true),
          Optional.empty(),
          Map.of(),
          Map.ofEntries(
              // Before Oracle 23 there are no truth values: numbers stand for them.
              entry(Word.TRUE, "1"),
              entry(Word.FALSE, "0"),
              entry(Word.LOCATE, "instr($1, $0)"),
              entry(Word.LOCATE_FROM, "instr($1, $0, $2)"),
              entry(Word.SUBSTRING, "substr($0, $1)"),
              entry(Word.SUBSTRING_FOR, "substr($0, $1, $2)"),
              entry(Word.LEFT, "substr($0, 1, $1)"),
              entry(Word.RIGHT, "substr($0, length($0) - $1 + 1)"),
              entry(Word.CEILING, "ceil($0)"),
              entry(Word.CURRENT_DATE, "trunc(current_date)"),
              entry(Word.CURRENT_TIME, "localtimestamp"),
              entry(Word.QUARTER, "to_number(to_char($0, 'Q'))"),
              entry(Word.WEEK, "to_number(to_char($0, 'IW'))"),
              entry(Word.EPOCH, "((cast($0 as date) - date '1970-01-01') * 86400)"),
              entry(Word.DAY_OF_WEEK, "to_number(to_char($0, 'D'))"),
              entry(Word.DAY_OF_YEAR, "to_number(to_char($0, 'DDD'))"),
              entry(Word.TRUNCATE_MOMENT, "trunc($1, '$0')"),
              entry(Word.MOVED, "($0 + numtodsinterval($1, '$2'))"),
              entry(Word.MOVED_MONTHS, "($0 + numtoyminterval($1, '$2'))"),
              entry(Word.DIFFERENCE, "extract($2 from ($1 - $0))"),
              entry(Word.DIFFERENCE_MONTHS, "months_between($1, $0)"),
              entry(Word.FORMAT, "to_char($0, $1)"),
              entry(Word.TEXT_TYPE, "varchar2(4000)"),
              entry(Word.CAST_TO_TEXT, "cast($0 as varchar2(4000))"),
              entry(Word.BIGINT_TYPE, "number(19, 0)"),
              entry(Word.DOUBLE_TYPE, "binary_double"),
              entry(Word.WITH_TIES, " fetch first $0 rows with ties"),
              entry(Word.RECURSIVE, ""),
              entry(Word.EXCEPT, "minus")));

  private static final Wording SQL_SERVER =
      wording(
          Optional.empty(),
          Optional.of(true),
          Map.of(),
          Map.ofEntries(
              entry(Word.TRUE, "1"),
              entry(Word.FALSE, "0"),
              entry(Word.ROW_LIST, NONE),
              entry(Word.QUOTE_OPEN, "["),
              entry(Word.QUOTE_CLOSE, "]"),
              entry(Word.CONCAT, "concat($0)"),
              entry(Word.CONCAT_BETWEEN, ", "),
              entry(Word.LENGTH, "len($0)"),
              entry(Word.LOCATE, "charindex($0, $1)"),
              entry(Word.LOCATE_FROM, "charindex($0, $1, $2)"),
              entry(Word.SUBSTRING, "substring($0, $1, len($0))"),
              entry(Word.LPAD, "right(replicate($2, $1) + $0, $1)"),
              entry(Word.RPAD, "left($0 + replicate($2, $1), $1)"),
              entry(Word.MOD, "($0 % $1)"),
              entry(Word.TRUNCATE, "round($0, $1, 1)"),
              entry(Word.TRUNCATE_WHOLE, "round($0, 0, 1)"),
              entry(Word.CURRENT_DATE, "cast(sysdatetime() as date)"),
              entry(Word.CURRENT_TIME, "cast(sysdatetime() as time)"),
              entry(Word.CURRENT_TIMESTAMP, "sysdatetime()"),
              entry(Word.LOCAL_DATETIME, "sysdatetime()"),
              entry(Word.NULLS_FIRST, NULLS.get(Word.NULLS_FIRST)),
              entry(Word.NULLS_LAST, NULLS.get(Word.NULLS_LAST)),
              entry(Word.EXTRACT, "datepart($0, $1)"),
              entry(Word.QUARTER, "datepart(quarter, $0)"),
              entry(Word.WEEK, "datepart(week, $0)"),
              entry(Word.EPOCH, "datediff_big(second, '1970-01-01', $0)"),
              entry(Word.DAY_OF_WEEK, "datepart(weekday, $0)"),
              entry(Word.DAY_OF_YEAR, "datepart(dayofyear, $0)"),
              entry(Word.TRUNCATE_MOMENT, "datetrunc($0, $1)"),
              entry(Word.MOVED, "dateadd($2, $1, $0)"),
              entry(Word.DIFFERENCE, "datediff_big($2, $0, $1)"),
              entry(Word.FORMAT, "format($0, $1)"),
              entry(Word.MOMENT, "$1"),
              entry(Word.LISTAGG, "string_agg($0, $1)"),
              entry(Word.LISTAGG_ORDERED, "string_agg($0, $1) within group ($2)"),
              entry(Word.TEXT_TYPE, "varchar(max)"),
              entry(Word.CAST_TO_TEXT, "cast($0 as varchar(max))"),
              entry(Word.DOUBLE_TYPE, "float"),
              entry(Word.TIMESTAMP_TYPE, "datetime2"),
              entry(Word.LIMIT, " offset 0 rows fetch next $0 rows only"),
              entry(Word.LIMIT_OFFSET, " offset $1 rows fetch next $0 rows only"),
              entry(Word.UNORDERED, " order by (select 0)"),
              entry(Word.RECURSIVE, "")));

  private static final Wording DB2 =
      wording(
          Optional.of(true),
          Optional.of(false),
          Map.of(),
          Map.ofEntries(
              entry(Word.SUBSTRING, "substr($0, $1)"),
              entry(Word.SUBSTRING_FOR, "substr($0, $1, $2)"),
              entry(Word.CEILING, "ceil($0)"),
              entry(Word.WEEK, "week_iso($0)"),
              entry(Word.TRUNCATE_MOMENT, "date_trunc('$0', $1)"),
              entry(Word.MOVED, "$0 + ($1) $2s"),
              entry(Word.NULLS_FIRST, NULLS.get(Word.NULLS_FIRST)),
              entry(Word.NULLS_LAST, NULLS.get(Word.NULLS_LAST)),
              entry(Word.DIFFERENCE, "$2s_between($1, $0)"),
              entry(Word.FORMAT, "varchar_format($0, $1)"),
              entry(Word.RECURSIVE, "")));

  private static final Wording DERBY =
      wording(
          Optional.of(true),
          Optional.empty(),
          Map.of(),
          Map.ofEntries(
              entry(Word.SUBSTRING, "substr($0, $1)"),
              entry(Word.SUBSTRING_FOR, "substr($0, $1, $2)"),
              entry(Word.LEFT, "substr($0, 1, $1)"),
              entry(Word.RIGHT, "substr($0, length($0) - $1 + 1)"),
              entry(Word.LOCAL_DATETIME, "current_timestamp"),
              entry(Word.EXTRACT, "$0($1)"),
              entry(Word.QUARTER, "((month($0) + 2) / 3)"),
              entry(Word.MOVED, "{fn timestampadd(SQL_TSI_$3, $1, $0)}"),
              entry(Word.DIFFERENCE, "{fn timestampdiff(SQL_TSI_$3, $0, $1)}"),
              entry(Word.MOMENT, "$1"),
              // Numbers become texts by way of CHAR alone.
              entry(Word.CAST_TO_TEXT, "trim(cast($0 as char(254)))")));

  private static final Map<String, Wording> ALL =
      Map.of(
          "postgresql", POSTGRESQL,
          "mysql", MYSQL,
          "mariadb", MYSQL,
          "h2", H2,
          "hsqldb", HSQLDB,
          "sqlite", SQLITE,
          "oracle", ORACLE,
          "mssql", SQL_SERVER,
          "db2", DB2,
          "derby", DERBY);

  private WordingByDatabase() {}

  private static Wording wording(
      Optional<Boolean> foldsUp,
      Optional<Boolean> nullsLow,
      Map<Word, String> shared,
      Map<Word, String> own) {
    Map<Word, String> forms = new EnumMap<>(STANDARD);
    forms.putAll(shared);
    forms.putAll(own);
    forms.values().removeIf(NONE::equals);
    return new Wording(foldsUp, nullsLow, forms);
  }

  static Wording of(String shortName) {
    Wording known = ALL.get(shortName);
    return known != null ? known : wording(Optional.of(true), Optional.empty(), Map.of(), Map.of());
  }
}
