package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Expression;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.StatementKind;
import io.trino.tpch.TpchColumn;
import io.trino.tpch.TpchTable;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.OptionalLong;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The 22 queries of the TPC Benchmark H specification (clause 2.4) on its 8 tables (clause 1.4).
 * Table and column names come from {@code io.trino.tpch:tpch:1.2}, the texts from {@code
 * org.apache.spark:spark-sql_2.13:3.5.8:tests}, both with the specification's substitution values.
 */
class TpchTest {
  private static final StatementFixture TPCH =
      StatementFixture.of(
          "postgresql",
          TpchTable.getTables().stream()
              .map(
                  table ->
                      table.getTableName()
                          + table.getColumns().stream()
                              .map(TpchColumn::getColumnName)
                              .collect(Collectors.joining(", ", "(", ")")))
              .toArray(String[]::new));

  private static IntStream numbers() {
    return IntStream.rangeClosed(1, 22);
  }

  private static String text(int number) {
    String name = "/tpch/q" + number + ".sql";
    try (InputStream in = TpchTest.class.getResourceAsStream(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new AssertionError(name, e);
    }
  }

  private static QueryBlock block(int query, int number) {
    return TPCH.block(text(query), number);
  }

  @Test
  void has_eight_tables() {
    assertThat(TpchTable.getTables()).hasSize(8);
  }

  @ParameterizedTest
  @MethodSource("numbers")
  void analyses_every_query(int number) {
    assertThat(TPCH.reason(text(number))).isEqualTo("analysed");
    assertThat(TPCH.query(text(number)).kind()).isEqualTo(StatementKind.SELECT);
  }

  @Test
  void q1_reads_seven_columns_of_one_table() {
    assertThat(TPCH.render(text(1)))
        .isEqualTo(
            "1 main: 1=lineitem | l_shipdate <= 1998-12-01 - interval '90' day {1} |"
                + " 1.l_discount 1.l_extendedprice 1.l_linestatus 1.l_quantity 1.l_returnflag"
                + " 1.l_shipdate 1.l_tax");
    QueryBlock block = block(1, 1);
    assertThat(block.groupBy())
        .extracting(Expression::render)
        .containsExactly("l_returnflag", "l_linestatus");
    assertThat(block.aggregates()).hasSize(8);
    assertThat(block.orderBy()).hasSize(2);
  }

  @Test
  void q3_orders_by_an_aggregate_and_limits() {
    QueryBlock block = block(3, 1);
    assertThat(StatementFixture.conditions(block))
        .isEqualTo(
            "c_mktsegment = 'BUILDING' {1} & c_custkey = o_custkey {1,2} & l_orderkey = o_orderkey"
                + " {2,3} & o_orderdate < 1995-03-15 {2} & l_shipdate > 1995-03-15 {3}");
    assertThat(block.orderBy().get(0).expression().render())
        .isEqualTo("sum(l_extendedprice * (1 - l_discount))");
    assertThat(block.orderBy().get(0).descending()).isTrue();
    assertThat(block.limit().orElseThrow().rows()).isEqualTo(OptionalLong.of(10));
  }

  @Test
  void q4_has_a_correlated_exists() {
    assertThat(StatementFixture.render(block(4, 2)))
        .isEqualTo(
            "2 exists in 1: 2=lineitem | l_orderkey = o_orderkey {2} & l_commitdate <"
                + " l_receiptdate {2} | 2.l_commitdate 2.l_orderkey 2.l_receiptdate");
    assertThat(block(4, 2).projection()).isEmpty();
    assertThat(StatementFixture.render(block(4, 1)))
        .endsWith("1.o_orderdate 1.o_orderkey 1.o_orderpriority");
  }

  @Test
  void q13_keeps_its_outer_join() {
    assertThat(StatementFixture.render(block(13, 2)))
        .isEqualTo(
            "2 derived-table in 1: 1=customer, 2=orders?<1 | c_custkey = o_custkey {2} & not"
                + " (o_comment like '%special%requests%') {2} | 1.c_custkey 2.o_comment"
                + " 2.o_custkey 2.o_orderkey");
  }

  @Test
  void q15_reads_its_revenue_once_and_refers_to_it_twice() {
    assertThat(TPCH.render(text(15)))
        .isEqualTo(
            """
            1 main: 2=supplier, 3=block 2 revenue0 | s_suppkey = supplier_no {2,3} & total_revenue = (subquery) {3} | 2.s_address 2.s_name 2.s_phone 2.s_suppkey 3.supplier_no 3.total_revenue
            2 common-table-expression in 1: 1=lineitem | l_shipdate >= 1996-01-01 {1} & l_shipdate < 1996-01-01 + interval '3' month {1} | 1.l_discount 1.l_extendedprice 1.l_shipdate 1.l_suppkey
            3 scalar in 1: 4=block 2 revenue0 |  | 4.total_revenue\
            """);
  }

  @Test
  void q17_compares_with_a_correlated_value() {
    assertThat(TPCH.render(text(17)))
        .isEqualTo(
            """
            1 main: 1=lineitem, 2=part | p_partkey = l_partkey {1,2} & p_brand = 'Brand#23' {2} & p_container = 'MED BOX' {2} & l_quantity < (subquery) {1,2} | 1.l_extendedprice 1.l_partkey 1.l_quantity 2.p_brand 2.p_container 2.p_partkey
            2 scalar in 1: 3=lineitem | l_partkey = p_partkey {3} | 3.l_partkey 3.l_quantity\
            """);
  }

  @Test
  void q19_keeps_its_three_branches() {
    QueryBlock block = block(19, 1);
    assertThat(block.conjuncts()).hasSize(1);
    assertThat(block.conjuncts().get(0).restricts()).containsExactlyInAnyOrder(1, 2);
    assertThat(StatementFixture.conditions(block).split(" or ", -1)).hasSize(3);
  }

  @Test
  void q20_nests_three_levels() {
    assertThat(TPCH.query(text(20)).blocks())
        .extracting(block -> block.number() + " " + block.role() + " " + block.parent().orElse(0))
        .containsExactly("1 MAIN 0", "2 IN 1", "3 IN 2", "4 SCALAR 2");
  }

  @Test
  void q21_has_an_exists_and_a_not_exists() {
    assertThat(TPCH.query(text(21)).blocks())
        .extracting(QueryBlock::role)
        .containsExactly(BlockRole.MAIN, BlockRole.EXISTS, BlockRole.EXISTS);
    assertThat(StatementFixture.conditions(block(21, 1)))
        .contains("exists (subquery) {2}", "not (exists (subquery)) {2}");
  }

  @Test
  void q22_searches_by_an_expression() {
    assertThat(StatementFixture.conditions(block(22, 1)))
        .as("the derived table of customers is read as part of the query around it")
        .startsWith("substring(c_phone, 1, 2) in ('13', '31', '23', '29', '30', '18', '17') {1}");
    assertThat(block(22, 3).parent()).contains(1);
  }
}
