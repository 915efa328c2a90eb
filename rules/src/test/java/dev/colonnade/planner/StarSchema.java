package dev.colonnade.planner;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * The Star Schema Benchmark (O'Neil, O'Neil, Chen, Revilak: The Star Schema Benchmark and Augmented
 * Fact Table Indexing, 2009): its tables from memory, its queries from {@code
 * org.apache.spark:spark-sql_2.13:3.5.8:tests}, with primary keys and indexes of our own. The table
 * of days is called days, since its own name is a word of SQL.
 */
final class StarSchema {
  private static final String DATE = "\\bdate\\b";

  /** Name, then columns; those that hold text are marked. */
  private static final List<String> TABLES =
      List.of(
          "lineorder(lo_orderkey, lo_linenumber, lo_custkey, lo_partkey, lo_suppkey, lo_orderdate,"
              + " lo_orderpriority text, lo_shippriority text, lo_quantity, lo_extendedprice,"
              + " lo_ordtotalprice, lo_discount, lo_revenue, lo_supplycost, lo_tax, lo_commitdate,"
              + " lo_shipmode text)",
          "part(p_partkey, p_name text, p_mfgr text, p_category text, p_brand1 text, p_color text,"
              + " p_type text, p_size, p_container text)",
          "supplier(s_suppkey, s_name text, s_address text, s_city text, s_nation text,"
              + " s_region text, s_phone text)",
          "customer(c_custkey, c_name text, c_address text, c_city text, c_nation text,"
              + " c_region text, c_phone text, c_mktsegment text)",
          "days(d_datekey, d_date text, d_dayofweek text, d_month text, d_year, d_yearmonthnum,"
              + " d_yearmonth text, d_daynuminweek, d_daynuminmonth, d_daynuminyear,"
              + " d_monthnuminyear, d_weeknuminyear, d_sellingseason text)");

  private static final Map<String, List<String>> KEYS =
      Map.of(
          "part", List.of("p_partkey"),
          "supplier", List.of("s_suppkey"),
          "customer", List.of("c_custkey"),
          "days", List.of("d_datekey"));

  private static final List<String> INDEXES =
      List.of(
          "lineorder(lo_orderdate, lo_discount, lo_quantity)",
          "lineorder(lo_custkey, lo_orderdate)",
          "lineorder(lo_suppkey, lo_partkey)",
          "lineorder(lo_partkey)",
          "part(p_category, p_brand1)",
          "part(p_brand1)",
          "part(p_mfgr, p_category)",
          "supplier(s_region, s_nation, s_city)",
          "supplier(s_city)",
          "supplier(s_nation, s_city)",
          "customer(c_region, c_nation)",
          "customer(c_city)",
          "customer(c_nation, c_city)",
          "days(d_year, d_weeknuminyear)",
          "days(d_yearmonthnum)",
          "days(d_yearmonth)");

  private StarSchema() {}

  static Benchmark benchmark() {
    List<TestTable> tables =
        TABLES.stream()
            .map(text -> Benchmark.table(tableOf(text), kinds(text), KEYS, INDEXES))
            .toList();
    Map<String, String> queries = new TreeMap<>();
    for (int flight = 1; flight <= 4; flight++) {
      for (int number = 1; number <= 4; number++) {
        Benchmark.add(queries, "/ssb/" + flight + "." + number);
      }
    }
    queries.replaceAll((name, sql) -> sql.replaceAll(DATE, "days"));
    return new Benchmark("SSB", tables, queries);
  }

  private static String tableOf(String text) {
    return text.substring(0, text.indexOf('('));
  }

  private static Map<String, ValueKind> kinds(String text) {
    Map<String, ValueKind> kinds = new LinkedHashMap<>();
    for (String column : text.substring(text.indexOf('(') + 1, text.length() - 1).split(", ", -1)) {
      boolean holdsText = column.endsWith(" text");
      kinds.put(column.replace(" text", ""), holdsText ? ValueKind.TEXT : ValueKind.INTEGER);
    }
    return kinds;
  }
}
