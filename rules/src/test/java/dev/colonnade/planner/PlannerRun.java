package dev.colonnade.planner;

import dev.colonnade.access.TableAccess;
import dev.colonnade.planner.TestTable.TestIndex;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Generated tables and queries put to one planner. */
final class PlannerRun {
  private static final int QUERIES_PER_TABLE = 16;

  private PlannerRun() {}

  /**
   * Asks about generated triples until as many as wanted were comparable.
   *
   * @param seed of the generator; equal seeds give equal workloads
   * @param wanted number of triples in which the planner used the index
   */
  static Agreement run(EmbeddedPlanner planner, long seed, int wanted) throws SQLException {
    Agreement agreement = new Agreement(planner.dialect().shortName());
    Random random = new Random(seed);
    TableGenerator tables = new TableGenerator(random, planner.dialect(), planner.abilities());
    QueryGenerator queries = new QueryGenerator(random, planner.abilities());
    for (int n = 1; agreement.compared() < wanted; n++) {
      TestTable table = tables.table("t" + n);
      List<TestQuery> asked = new ArrayList<>();
      for (int i = 0; i < QUERIES_PER_TABLE; i++) {
        asked.add(queries.single(table));
      }
      ask(planner, table, asked, agreement);
    }
    return agreement;
  }

  private static void ask(
      EmbeddedPlanner planner, TestTable table, List<TestQuery> queries, Agreement agreement)
      throws SQLException {
    Prediction prediction = new Prediction(planner.dialect(), List.of(table));
    List<List<TableAccess>> predicted = queries.stream().map(prediction::accesses).toList();
    planner.create(table);
    for (TestIndex index : table.indexes()) {
      planner.createIndex(index);
      planner.analyze(table);
      for (int i = 0; i < queries.size(); i++) {
        TestQuery query = queries.get(i);
        try {
          PlannerWord word = planner.ask(query, table, index);
          agreement.compare(
              table, query, index, prediction.word(predicted.get(i), query, index), word);
        } catch (SQLException e) {
          agreement.refused(e);
        }
      }
      planner.dropIndex(index);
    }
    planner.drop(table);
  }
}
