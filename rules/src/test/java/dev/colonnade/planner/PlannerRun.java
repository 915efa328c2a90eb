package dev.colonnade.planner;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.query.Query;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Generated tables and queries put to one planner. */
final class PlannerRun {
  private static final int QUERIES_PER_TABLE = 16;

  /** One group of tables in so many is joined; the others are asked about alone. */
  private static final int JOIN_EVERY = Integer.getInteger("colonnade.planner.joinEvery", 3);

  /** Numbers of the groups of tables that are asked about; all where none is given. */
  private static final Set<Integer> GROUPS =
      Stream.of(System.getProperty("colonnade.planner.groups", "").split(",", -1))
          .filter(it -> !it.isBlank())
          .map(Integer::valueOf)
          .collect(Collectors.toSet());

  private PlannerRun() {}

  /**
   * Asks about generated triples until as many as wanted were comparable, or until the last of the
   * groups that are asked for; the same groups are generated either way.
   *
   * @param seed of the generator; equal seeds give equal workloads
   * @param wanted number of triples in which the planner used the index
   */
  static Agreement run(EmbeddedPlanner planner, long seed, int wanted) throws SQLException {
    Agreement agreement = new Agreement(planner.dialect().shortName());
    Random random = new Random(seed);
    TableGenerator tables = new TableGenerator(random, planner.dialect(), planner.abilities());
    QueryGenerator queries = new QueryGenerator(random, planner.abilities());
    int last = GROUPS.stream().mapToInt(Integer::intValue).max().orElse(Integer.MAX_VALUE);
    for (int n = 1; agreement.compared() < wanted && n <= last; n++) {
      if (n % JOIN_EVERY == 0) {
        askJoins(planner, tables, queries, n, agreement);
        continue;
      }
      TestTable table = tables.table("t" + n);
      List<TestQuery> asked = new ArrayList<>();
      for (int i = 0; i < QUERIES_PER_TABLE; i++) {
        asked.add(queries.single(table));
      }
      if (isWanted(n)) {
        planner.create(table);
        ask(planner, List.of(table), table, asked, agreement);
        planner.drop(table);
      }
    }
    return agreement;
  }

  private static boolean isWanted(int group) {
    return GROUPS.isEmpty() || GROUPS.contains(group);
  }

  private static void askJoins(
      EmbeddedPlanner planner,
      TableGenerator tables,
      QueryGenerator queries,
      int n,
      Agreement agreement)
      throws SQLException {
    List<TestTable> group = new ArrayList<>();
    for (int i = 0; i < 2 + n % 2; i++) {
      group.add(tables.joined("t" + n + "_" + (i + 1)));
    }
    List<TestQuery> asked = new ArrayList<>();
    for (int i = 0; i < QUERIES_PER_TABLE; i++) {
      asked.add(queries.join(group));
    }
    if (!isWanted(n)) {
      return;
    }
    for (TestTable table : group) {
      planner.create(table);
      planner.analyze(table);
    }
    for (TestTable table : group) {
      ask(planner, group, table, asked, agreement);
    }
    for (TestTable table : group) {
      planner.drop(table);
    }
  }

  private static void ask(
      EmbeddedPlanner planner,
      List<TestTable> group,
      TestTable table,
      List<TestQuery> all,
      Agreement agreement)
      throws SQLException {
    List<TestQuery> queries =
        all.stream().filter(it -> it.tables().contains(table.name())).toList();
    for (TestIndex index : table.indexes()) {
      Prediction prediction = prediction(planner.dialect(), group, table, index);
      List<Query> predicted = queries.stream().map(prediction::query).toList();
      planner.createIndex(index);
      planner.analyze(table);
      for (int i = 0; i < queries.size(); i++) {
        TestQuery query = queries.get(i);
        try {
          PlannerWord word = planner.ask(query, table, index);
          agreement.compare(
              table, query, index, prediction.word(predicted.get(i), query, index, word), word);
        } catch (SQLException e) {
          agreement.refused(e);
        }
      }
      planner.dropIndex(index);
    }
  }

  /** What is said where that index is the only one, as it is when its turn comes. */
  private static Prediction prediction(
      Dialect dialect, List<TestTable> group, TestTable table, TestIndex index) {
    return new Prediction(
        dialect,
        group.stream()
            .map(it -> it.withIndexes(it.equals(table) ? List.of(index) : List.of()))
            .toList());
  }
}
