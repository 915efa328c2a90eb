package dev.colonnade.planner;

import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import io.trino.tpcds.Table;
import io.trino.tpch.TpchColumn;
import io.trino.tpch.TpchTable;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * The tables and queries of a published benchmark, with indexes of our own and few rows of no
 * meaning: what an index does for a query is compared, not what it costs.
 *
 * @param queries texts by name
 */
record Benchmark(String name, List<TestTable> tables, Map<String, String> queries) {
  private static final int ROWS = 400;

  private static final Map<String, List<String>> TPCH_KEYS =
      keys(
          "customer(c_custkey)",
          "orders(o_orderkey)",
          "lineitem(l_orderkey, l_linenumber)",
          "part(p_partkey)",
          "partsupp(ps_partkey, ps_suppkey)",
          "supplier(s_suppkey)",
          "nation(n_nationkey)",
          "region(r_regionkey)");

  private static final List<String> TPCH_INDEXES =
      List.of(
          "customer(c_nationkey, c_acctbal)",
          "customer(c_mktsegment, c_custkey)",
          "orders(o_custkey, o_orderdate)",
          "orders(o_orderdate, o_custkey)",
          "orders(o_orderpriority, o_orderdate)",
          "lineitem(l_partkey, l_suppkey, l_quantity)",
          "lineitem(l_suppkey, l_shipdate)",
          "lineitem(l_shipdate, l_discount, l_quantity)",
          "lineitem(l_returnflag, l_linestatus, l_shipdate)",
          "lineitem(l_shipmode, l_receiptdate)",
          "part(p_brand, p_container, p_size)",
          "part(p_size, p_type)",
          "partsupp(ps_suppkey, ps_supplycost)",
          "supplier(s_nationkey, s_suppkey)",
          "nation(n_regionkey, n_name)",
          "nation(n_name)",
          "region(r_name)");

  private static final List<String> TPCDS_INDEXES =
      List.of(
          "store_sales(ss_sold_date_sk, ss_item_sk)",
          "store_sales(ss_customer_sk, ss_sold_date_sk)",
          "store_sales(ss_item_sk, ss_store_sk, ss_quantity)",
          "store_sales(ss_quantity, ss_list_price)",
          "catalog_sales(cs_sold_date_sk, cs_item_sk)",
          "catalog_sales(cs_bill_customer_sk, cs_sold_date_sk)",
          "catalog_sales(cs_item_sk, cs_warehouse_sk)",
          "web_sales(ws_sold_date_sk, ws_item_sk)",
          "web_sales(ws_bill_customer_sk, ws_sold_date_sk)",
          "web_sales(ws_item_sk, ws_web_site_sk)",
          "store_returns(sr_returned_date_sk, sr_item_sk)",
          "store_returns(sr_customer_sk, sr_item_sk)",
          "catalog_returns(cr_returned_date_sk, cr_item_sk)",
          "web_returns(wr_returned_date_sk, wr_item_sk)",
          "inventory(inv_item_sk, inv_warehouse_sk, inv_date_sk)",
          "date_dim(d_year, d_moy, d_dom)",
          "date_dim(d_date, d_date_sk)",
          "date_dim(d_month_seq)",
          "date_dim(d_year, d_qoy)",
          "item(i_category, i_class, i_brand)",
          "item(i_manufact_id, i_current_price)",
          "item(i_manager_id)",
          "item(i_current_price)",
          "customer(c_current_addr_sk)",
          "customer(c_current_cdemo_sk)",
          "customer_address(ca_state, ca_county)",
          "customer_address(ca_city)",
          "customer_demographics(cd_gender, cd_marital_status, cd_education_status)",
          "household_demographics(hd_dep_count, hd_vehicle_count)",
          "store(s_state, s_county)",
          "store(s_store_name)",
          "time_dim(t_hour, t_minute)",
          "promotion(p_channel_email)",
          "web_site(web_company_name)",
          "call_center(cc_county)",
          "warehouse(w_warehouse_name)");

  /** TPC-H: tables of {@code io.trino.tpch:tpch:1.2}, texts as {@code TpchTest} has them. */
  static Benchmark tpch() {
    List<TestTable> tables = new ArrayList<>();
    for (TpchTable<?> table : TpchTable.getTables()) {
      Map<String, ValueKind> columns = new LinkedHashMap<>();
      for (TpchColumn<?> column : table.getColumns()) {
        columns.put(
            column.getColumnName(),
            switch (column.getType().getBase()) {
              case INTEGER -> ValueKind.INTEGER;
              case IDENTIFIER -> ValueKind.BIG;
              case DATE -> ValueKind.DAY;
              case DOUBLE -> ValueKind.DECIMAL;
              case VARCHAR -> ValueKind.TEXT;
            });
      }
      tables.add(table(table.getTableName(), columns, TPCH_KEYS, TPCH_INDEXES));
    }
    Map<String, String> queries = new TreeMap<>();
    for (int n = 1; n <= 22; n++) {
      add(queries, "/tpch/q" + n);
    }
    return new Benchmark("TPC-H", tables, queries);
  }

  /** TPC-DS: tables of {@code io.trino.tpcds:tpcds:1.4}, texts as {@code TpcdsTest} has them. */
  static Benchmark tpcds() {
    List<TestTable> tables = new ArrayList<>();
    Map<String, List<String>> primaryKeys = new TreeMap<>();
    for (Table table : Table.getBaseTables()) {
      Map<String, ValueKind> columns = new LinkedHashMap<>();
      for (io.trino.tpcds.column.Column column : table.getColumns()) {
        columns.put(
            column.getName(),
            switch (column.getType().getBase()) {
              case INTEGER -> ValueKind.INTEGER;
              case IDENTIFIER -> ValueKind.BIG;
              case DATE -> ValueKind.DAY;
              case DECIMAL -> ValueKind.DECIMAL;
              case VARCHAR, CHAR, TIME -> ValueKind.TEXT;
            });
      }
      String first = columns.keySet().iterator().next();
      boolean fact = table.getName().endsWith("_sales") || table.getName().endsWith("_returns");
      if (!fact && first.endsWith("_sk") && !table.getName().equals("inventory")) {
        primaryKeys.put(table.getName(), List.of(first));
      }
      tables.add(table(table.getName(), columns, primaryKeys, TPCDS_INDEXES));
    }
    return new Benchmark("TPC-DS", tables, tpcdsQueries("tpcds"));
  }

  /** Other wordings of queries of TPC-DS: those of version 2.7, and those that Spark keeps. */
  static List<Benchmark> tpcdsVariants() {
    List<TestTable> tables = tpcds().tables();
    return List.of(
        new Benchmark("TPC-DS 2.7", tables, tpcdsQueries("tpcds-v2.7.0")),
        new Benchmark("TPC-DS modified", tables, tpcdsQueries("tpcds-modifiedQueries")));
  }

  private static Map<String, String> tpcdsQueries(String folder) {
    Map<String, String> queries = new TreeMap<>();
    for (int n = 1; n <= 99; n++) {
      for (String variant : List.of("", "a", "b")) {
        add(queries, "/" + folder + "/q" + n + variant);
      }
    }
    return queries;
  }

  static void add(Map<String, String> queries, String path) {
    try (InputStream in = Benchmark.class.getResourceAsStream(path + ".sql")) {
      if (in != null) {
        queries.put(
            path.substring(path.lastIndexOf('/') + 1),
            new String(in.readAllBytes(), StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      throw new AssertionError(path, e);
    }
  }

  /** The same with one in so many of the queries. */
  Benchmark withEvery(int every) {
    Map<String, String> some = new TreeMap<>();
    int number = 0;
    for (Map.Entry<String, String> query : queries.entrySet()) {
      if (number++ % every == 0) {
        some.put(query.getKey(), query.getValue());
      }
    }
    return new Benchmark(name, tables, some);
  }

  private static Map<String, List<String>> keys(String... texts) {
    Map<String, List<String>> keys = new TreeMap<>();
    Arrays.stream(texts).forEach(text -> keys.put(tableOf(text), columnsOf(text)));
    return keys;
  }

  private static String tableOf(String text) {
    return text.substring(0, text.indexOf('('));
  }

  private static List<String> columnsOf(String text) {
    return List.of(text.substring(text.indexOf('(') + 1, text.length() - 1).split(", ", -1));
  }

  static TestTable table(
      String name,
      Map<String, ValueKind> kinds,
      Map<String, List<String>> primaryKeys,
      List<String> all) {
    List<String> primaryKey = primaryKeys.getOrDefault(name, List.of());
    List<TestIndex> indexes = new ArrayList<>();
    for (String text : all) {
      if (tableOf(text).equals(name)) {
        indexes.add(index("x" + (indexes.size() + 1) + "_" + name, name, columnsOf(text)));
      }
    }
    List<TestColumn> columns = new ArrayList<>();
    kinds.forEach(
        (column, kind) ->
            columns.add(
                new TestColumn(
                    column,
                    kind,
                    !primaryKey.contains(column),
                    values(column, kind, primaryKey),
                    Optional.empty())));
    List<Integer[]> rows = new ArrayList<>();
    for (int row = 0; row < ROWS; row++) {
      int number = row;
      rows.add(columns.stream().map(it -> number % it.values()).toArray(Integer[]::new));
    }
    return new TestTable(name, columns, primaryKey, rows, indexes);
  }

  /** How many different values a column has: references to other tables have many. */
  private static int values(String column, ValueKind kind, List<String> primaryKey) {
    if (primaryKey.contains(column)) {
      return ROWS;
    }
    return kind == ValueKind.BIG || column.endsWith("_sk") ? ROWS / 2 : 20;
  }

  static TestIndex index(String name, String table, List<String> columns) {
    return new TestIndex(
        name,
        table,
        false,
        columns.stream().map(it -> new TestKey(it, false, false, Optional.empty())).toList(),
        List.of(),
        Optional.empty());
  }
}
