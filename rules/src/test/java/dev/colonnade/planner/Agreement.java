package dev.colonnade.planner;

import dev.colonnade.access.AccessPath;
import dev.colonnade.planner.Prediction.OurWord;
import dev.colonnade.planner.TestTable.TestIndex;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Counts over many triples of query, table and index, and what did not agree. */
final class Agreement {
  /** Names of the known differences that are printed where they are met, as a pattern. */
  private static final String SHOWN = System.getProperty("colonnade.planner.show", "");

  private final String database;
  private final List<String> disagreements = new ArrayList<>();
  private final Map<KnownDifference, Integer> known = new TreeMap<>(KnownDifference.ORDER);
  private final List<String> unusedClaims = new ArrayList<>();
  private final List<String> refused = new ArrayList<>();
  private int asked;
  private int compared;
  private int matchingTold;
  private int coveringTold;
  private int orderTold;
  private int agreed;

  Agreement(String database) {
    this.database = database;
  }

  /** Compares the two words on one triple. */
  void compare(TestTable table, TestQuery query, TestIndex index, OurWord ours, PlannerWord word) {
    asked++;
    if (!word.used()) {
      if (!ours.matching().isEmpty()) {
        unusedClaims.add(describe("not used", table, query, index, ours, word));
      }
      return;
    }
    compared++;
    List<String> differing = new ArrayList<>();
    if (word.matching().isPresent()) {
      matchingTold++;
      boolean same =
          word.matching().get().equals(ours.matching())
              && (!word.skips() || ours.candidate().path() == AccessPath.SKIP_SCAN);
      if (!same) {
        differing.add("matching");
      }
    }
    if (word.covering().isPresent()) {
      coveringTold++;
      if (word.covering().get() != ours.candidate().covering()) {
        differing.add("covering");
      }
    }
    boolean decides = word.readBefore().isEmpty() && !query.below().contains(table.name());
    if (decides && word.ordered().isPresent() && ours.ordered().isPresent()) {
      orderTold++;
      if (!word.ordered().get().equals(ours.ordered().get())) {
        differing.add("ordered");
      }
    }
    if (differing.isEmpty()) {
      agreed++;
      return;
    }
    boolean explained = true;
    for (String what : differing) {
      Optional<KnownDifference> reason =
          KnownDifference.of(
              new KnownDifference.Case(database, what, table, query, index, ours, word));
      reason.ifPresent(it -> known.merge(it, 1, Integer::sum));
      reason
          .filter(it -> it.name().matches(SHOWN))
          .ifPresent(
              it ->
                  System.out.println(
                      it.name() + ": " + describe(what, table, query, index, ours, word)));
      explained &= reason.isPresent();
    }
    if (!explained) {
      disagreements.add(describe(String.join("+", differing), table, query, index, ours, word));
    }
  }

  private static String describe(
      String what,
      TestTable table,
      TestQuery query,
      TestIndex index,
      OurWord ours,
      PlannerWord word) {
    return what
        + "\n  table "
        + table.ddl()
        + "\n  index "
        + index.ddl()
        + "\n  query "
        + query.sql()
        + "\n  ours  "
        + ours.summary()
        + "\n  word  "
        + word.summary()
        + "\n  plan  "
        + word.plan().replaceAll("\\s+", " ");
  }

  /** The database refuses a query; more than a few of a hundred are a fault of the generator. */
  void refused(SQLException reason) {
    if ("REFUSED".matches(SHOWN)) {
      System.out.println("REFUSED: " + reason.getMessage());
    }
    refused.add(reason.getMessage());
  }

  /** What the database said about queries that it refused. */
  List<String> refused() {
    return refused;
  }

  int asked() {
    return asked;
  }

  int compared() {
    return compared;
  }

  int agreed() {
    return agreed;
  }

  int explained() {
    return compared - agreed - disagreements.size();
  }

  Map<KnownDifference, Integer> known() {
    return known;
  }

  List<String> disagreements() {
    return disagreements;
  }

  /** Indexes that bound a scan as we say and that the planner leaves alone. */
  List<String> unusedClaims() {
    return unusedClaims;
  }

  String summary() {
    return "asked "
        + asked
        + ", compared "
        + compared
        + " (matching "
        + matchingTold
        + ", covering "
        + coveringTold
        + ", order "
        + orderTold
        + "), agreed "
        + agreed
        + ", explained "
        + explained()
        + ", not explained "
        + disagreements.size()
        + ", refused "
        + refused.size()
        + ", known "
        + known;
  }
}
