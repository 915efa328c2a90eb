package dev.colonnade.planner;

import dev.colonnade.planner.BenchmarkResult.Comparison;
import dev.colonnade.query.BlockRole;
import java.util.Arrays;
import java.util.Optional;
import java.util.Set;

/** Named ways in which a plan of a published workload says something else than the analysis. */
enum BenchmarkDifference {
  JOINED_UNION(
      Set.of("postgresql"),
      "A join with a UNION ALL is pushed into its branches (README of the optimizer, parameterized"
          + " paths and append relations); the analysis reads each branch by itself and claims"
          + " less.") {
    @Override
    boolean explains(String query, String what, Comparison it) {
      return Set.of("q5", "q54", "q71").contains(query);
    }
  },
  LIST_TAKEN_FIRST(
      Set.of("h2"),
      "A list on the leading column bounds the scan where it is evaluated before the other"
          + " conditions on the index, which depends on the wording where there are more than two;"
          + " the analysis does not count on that and claims less.") {
    @Override
    boolean explains(String query, String what, Comparison it) {
      return what.equals("matching")
          && it.ours().remark().contains("only where it is evaluated before other conditions");
    }
  },
  SELECT_LIST_OF_EXISTS(
      Set.of("sqlite"),
      "An EXISTS that stays a subquery (under NOT or OR) is planned with its whole select list, so"
          + " that with a star in it no index alone answers; the analysis leaves the list out of"
          + " account and claims more.") {
    @Override
    boolean explains(String query, String what, Comparison it) {
      return what.equals("covering")
          && it.block().role() == BlockRole.EXISTS
          && it.scan().covering().equals(Optional.of(false));
    }
  };

  private final Set<String> databases;
  private final String explanation;

  BenchmarkDifference(Set<String> databases, String explanation) {
    this.databases = databases;
    this.explanation = explanation;
  }

  String explanation() {
    return explanation;
  }

  abstract boolean explains(String query, String what, Comparison it);

  static Optional<BenchmarkDifference> of(
      String database, String query, String what, Comparison it) {
    return Arrays.stream(values())
        .filter(fact -> fact.databases.contains(database))
        .filter(fact -> fact.explains(query, what, it))
        .findFirst();
  }
}
