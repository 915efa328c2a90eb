package dev.colonnade.counter;

import dev.colonnade.counter.DataTable.DataColumn;
import dev.colonnade.schema.TypeFamily;
import io.trino.tpch.TpchColumn;
import io.trino.tpch.TpchEntity;
import io.trino.tpch.TpchTable;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * The TPC-H tables with the rows of the generator {@code io.trino.tpch:tpch:1.2}, the primary keys
 * of the specification (clause 1.4.2) and indexes of our own.
 */
final class TpchData {
  private static final Map<String, List<String>> PRIMARY_KEYS =
      Map.of(
          "customer", List.of("c_custkey"),
          "orders", List.of("o_orderkey"),
          "lineitem", List.of("l_orderkey", "l_linenumber"),
          "part", List.of("p_partkey"),
          "partsupp", List.of("ps_partkey", "ps_suppkey"),
          "supplier", List.of("s_suppkey"),
          "nation", List.of("n_nationkey"),
          "region", List.of("r_regionkey"));

  private static final Map<String, List<List<String>>> KEYS =
      Map.of(
          "customer",
          List.of(
              List.of("c_nationkey", "c_acctbal"),
              List.of("c_mktsegment"),
              List.of("c_phone"),
              List.of("c_mktsegment", "c_nationkey")),
          "orders",
          List.of(
              List.of("o_custkey", "o_orderdate"),
              List.of("o_orderdate"),
              List.of("o_orderpriority", "o_orderdate"),
              List.of("o_clerk")),
          "lineitem",
          List.of(
              List.of("l_partkey", "l_suppkey"),
              List.of("l_suppkey", "l_shipdate"),
              List.of("l_shipdate", "l_discount", "l_quantity"),
              List.of("l_returnflag", "l_linestatus", "l_shipdate"),
              List.of("l_quantity"),
              List.of("l_shipmode", "l_receiptdate")),
          "part",
          List.of(
              List.of("p_brand", "p_container", "p_size"),
              List.of("p_size", "p_type"),
              List.of("p_type"),
              List.of("p_mfgr", "p_brand")),
          "partsupp",
          List.of(List.of("ps_suppkey"), List.of("ps_supplycost")),
          "supplier",
          List.of(List.of("s_nationkey")));

  private TpchData() {}

  /**
   * The tables.
   *
   * @param scale 1 means 6 million rows in the largest table
   */
  static List<DataTable> tables(double scale) {
    return TpchTable.getTables().stream().map(table -> table(table, scale)).toList();
  }

  private static <E extends TpchEntity> DataTable table(TpchTable<E> table, double scale) {
    List<Object[]> rows = new ArrayList<>();
    List<TpchColumn<E>> columns = table.getColumns();
    for (E entity : table.createGenerator(scale, 1, 1)) {
      rows.add(columns.stream().map(column -> value(column, entity)).toArray());
    }
    return new DataTable(
        table.getTableName(),
        columns.stream().map(TpchData::column).toList(),
        PRIMARY_KEYS.get(table.getTableName()),
        KEYS.getOrDefault(table.getTableName(), List.of()),
        rows);
  }

  private static <E extends TpchEntity> Object value(TpchColumn<E> column, E entity) {
    return switch (column.getType().getBase()) {
      case INTEGER -> column.getInteger(entity);
      case IDENTIFIER -> column.getIdentifier(entity);
      case DATE -> LocalDate.ofEpochDay(column.getDate(entity));
      case DOUBLE -> BigDecimal.valueOf(column.getDouble(entity)).setScale(2, RoundingMode.HALF_UP);
      case VARCHAR -> column.getString(entity);
    };
  }

  private static DataColumn column(TpchColumn<?> column) {
    String name = column.getColumnName();
    return switch (column.getType().getBase()) {
      case INTEGER -> new DataColumn(name, "integer", TypeFamily.INTEGER, false);
      case IDENTIFIER -> new DataColumn(name, "bigint", TypeFamily.BIG_INTEGER, false);
      case DATE -> new DataColumn(name, "date", TypeFamily.DATE, false);
      case DOUBLE -> new DataColumn(name, "decimal(15,2)", TypeFamily.DECIMAL, false);
      case VARCHAR ->
          new DataColumn(
              name,
              "varchar(" + column.getType().getPrecision().orElse(200L) + ")",
              TypeFamily.TEXT,
              false);
    };
  }
}
