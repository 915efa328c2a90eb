package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.published.SchemaNotation;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/**
 * The order of reading against every order there is: up to eight tables the cheapest of all is
 * found, beyond that one is found in a bounded number of steps (Selinger and others, SIGMOD 1979).
 */
class JoinOrderTest {
  private static final long SEED = 8_642;

  /**
   * Tables whose rows and costs are made up: the rows of a set of tables do not depend on the order
   * in which they were read, the cost of reading one does.
   */
  private static final class MadeUp {
    private final double[] rows;
    private final double[][] shares;
    private final double[][] costs;
    private final List<FromItem> items = new ArrayList<>();
    private int asked;

    MadeUp(int tables, boolean outerJoins, Random random) {
      rows = IntStream.range(0, tables).mapToDouble(i -> 1 + random.nextInt(5_000)).toArray();
      shares = new double[tables][tables];
      costs = new double[tables][1 << Math.min(tables, 8)];
      for (int i = 0; i < tables; i++) {
        for (int j = 0; j < i; j++) {
          shares[i][j] = random.nextInt(3) == 0 ? 1 : 1.0 / (1 + random.nextInt(5_000));
          shares[j][i] = shares[i][j];
        }
        for (int set = 0; set < costs[i].length; set++) {
          costs[i][set] = 1 + random.nextInt(random.nextBoolean() ? 20 : 2_000);
        }
        Set<Integer> after =
            outerJoins && i > 0 && random.nextInt(3) == 0 ? Set.of(random.nextInt(i)) : Set.of();
        items.add(new TableUse(i, Identifier.of("t" + i), "t" + i, false, after, false));
      }
    }

    UseAnalysis analysis(TableUse use, Set<Integer> read) {
      asked++;
      double found = rows[use.use()];
      int set = 0;
      for (int other : read) {
        found *= shares[use.use()][other];
        set |= 1 << other % 8;
      }
      Candidate way = way(costs[use.use()][set], found);
      Candidate whole = way(costs[use.use()][0] * 10, found);
      return new UseAnalysis(null, List.of(), way, List.of(), whole, true);
    }

    private static Candidate way(double cost, double rows) {
      return new Candidate(
          Optional.empty(),
          AccessPath.FULL_TABLE_SCAN,
          List.of(),
          List.of(),
          List.of(),
          false,
          List.of(),
          Optional.empty(),
          Optional.empty(),
          "",
          new AccessEstimate(0, 0, 1, rows, Confidence.DERIVED),
          cost);
    }

    /** Cost of reading the tables in this order. */
    double cost(List<FromItem> order) {
      Set<Integer> read = new HashSet<>();
      double before = 1;
      double cost = 0;
      for (FromItem item : order) {
        UseAnalysis found = analysis((TableUse) item, read);
        cost += JoinOrder.price(found, before);
        before = Math.max(1e-9, before * found.chosen().estimate().rows());
        read.add(item.use());
      }
      return cost;
    }

    /** Least cost of all orders that begin with these tables. */
    double least(List<FromItem> head) {
      if (head.size() == items.size()) {
        return cost(head);
      }
      Set<Integer> read = uses(head);
      double least = Double.POSITIVE_INFINITY;
      for (FromItem item : items) {
        if (!head.contains(item) && read.containsAll(item.after())) {
          List<FromItem> longer = new ArrayList<>(head);
          longer.add(item);
          least = Math.min(least, least(longer));
        }
      }
      return least;
    }
  }

  private static Set<Integer> uses(List<FromItem> items) {
    return items.stream().map(FromItem::use).collect(Collectors.toSet());
  }

  private static void assertValid(MadeUp made, List<FromItem> order, String state) {
    assertThat(order).as(state).containsExactlyInAnyOrderElementsOf(made.items);
    for (int i = 0; i < order.size(); i++) {
      assertThat(uses(order.subList(0, i))).as(state).containsAll(order.get(i).after());
    }
  }

  @Test
  void the_cheapest_of_all_orders_is_found_for_few_tables() {
    Random random = new Random(SEED);
    for (int run = 0; run < 300; run++) {
      MadeUp made = new MadeUp(2 + run % 5, run % 2 == 0, random);
      List<FromItem> order = new JoinOrder(made.items, made::analysis).find();
      String state = "seed " + SEED + ", run " + run;
      assertValid(made, order, state);
      double least = made.least(List.of());
      assertThat(made.cost(order)).as(state).isCloseTo(least, within(1e-9 * least));
    }
  }

  /** Eight tables have 40,320 orders, but only 1,024 ways to put a table behind a set of others. */
  @Test
  void eight_tables_take_one_step_for_each_set_and_table() {
    Random random = new Random(SEED);
    MadeUp made = new MadeUp(JoinOrder.EXHAUSTIVE, false, random);
    List<FromItem> order = new JoinOrder(made.items, made::analysis).find();
    assertThat(made.asked).isEqualTo(8 * (1 << 7));
    assertValid(made, order, "seed " + SEED);
    double least = made.least(List.of());
    assertThat(made.cost(order)).isCloseTo(least, within(1e-9 * least));
  }

  @Test
  void many_tables_take_a_bounded_number_of_steps() {
    Random random = new Random(SEED);
    for (int tables : new int[] {9, 12, 20, 40}) {
      MadeUp made = new MadeUp(tables, true, random);
      List<FromItem> order = new JoinOrder(made.items, made::analysis).find();
      assertThat(made.asked).isLessThanOrEqualTo(tables * (tables + 1) / 2);
      assertValid(made, order, "seed " + SEED + ", " + tables + " tables");
    }
  }

  /**
   * Each table leads to the next by its key: only from the one with a value on do all keys help.
   */
  @Test
  void a_chain_of_twelve_tables_is_read_from_the_table_that_is_bound() {
    int tables = 12;
    List<String> schema = new ArrayList<>();
    StringBuilder sql = new StringBuilder("select t0.id from t0");
    for (int i = 0; i < tables; i++) {
      schema.add("table t" + i + "(id int not null, next int, primary key (id))");
      if (i > 0) {
        sql.insert("select t0.id from ".length(), "t" + i + ", ");
      }
    }
    sql.append(" where t0.id = 5");
    for (int i = 1; i < tables; i++) {
      sql.append(" and t").append(i).append(".id = t").append(i - 1).append(".next");
    }
    Schema read = SchemaNotation.read(schema, Dialects.postgresql());
    QueryText text =
        new QueryText(
            "q", SourceLocation.of("q.sql"), QuerySource.FILE, sql.toString(), sql.toString());
    StatementReading reading = new StatementParser(read, Dialects.postgresql()).parse(text);
    List<TableAccess> accesses =
        new AccessPathAnalyzer(read, Dialects.postgresql(), Statistics.NONE)
            .analyze(((StatementReading.Analysed) reading).query())
            .tables();
    assertThat(accesses)
        .extracting(access -> access.use().alias())
        .containsExactlyElementsOf(IntStream.range(0, tables).mapToObj(i -> "t" + i).toList());
    assertThat(accesses)
        .allSatisfy(it -> assertThat(it.chosen().path()).isEqualTo(AccessPath.UNIQUE_LOOKUP));
  }
}
