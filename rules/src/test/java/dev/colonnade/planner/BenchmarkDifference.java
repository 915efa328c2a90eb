package dev.colonnade.planner;

import dev.colonnade.access.AccessPath;
import dev.colonnade.planner.BenchmarkResult.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import java.util.Arrays;
import java.util.Optional;
import java.util.Set;

/**
 * Named ways in which a plan of a published workload says something else than the analysis, each
 * recognised by the shape of plan and query. Most are those of {@link KnownDifference}.
 */
enum BenchmarkDifference {
  JOINED_UNION(
      Set.of("postgresql"),
      "A join with a UNION ALL is pushed into its branches (README of the optimizer, parameterized"
          + " paths and append relations); the analysis reads each branch by itself and claims"
          + " less.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what)
          && it.isOperand()
          && it.isReadBeforeFromOutside()
          && it.plan().contains("\"Node Type\":\"Append\"");
    }
  },
  FLATTENED_UNION(
      Set.of("sqlite"),
      "A UNION ALL in FROM becomes part of the query around it (optoverview.html, subquery"
          + " flattening), so that what that asks of its rows, with rows of a query further out,"
          + " too, is asked in each operand; the analysis hands inside what is asked of its rows"
          + " alone.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what)
          && it.isOperand()
          && it.isOutput(it.further().get(0))
          && it.plan().contains("UNION ALL");
    }
  },
  LIST_TAKEN_FIRST(
      Set.of("h2"),
      "A list on the leading column bounds the scan where it is evaluated before the other"
          + " conditions on the index, which depends on the wording where there are more than two;"
          + " the analysis does not count on that and claims less.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return what.equals("matching")
          && it.ours().remark().contains("only where it is evaluated before other conditions");
    }
  },
  CARRIED_BY_NEIGHBOURS(Set.of("h2"), Underclaim.CARRIED_BY_NEIGHBOURS.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what) && it.further().stream().allMatch(it::isCarried);
    }
  },
  BRANCH_BY_BRANCH(
      Set.of("hsqldb"),
      "An OR of which each branch has an index is read branch by branch, and the plan tells the"
          + " columns of the first; the analysis says that of the branches, not of the whole, and"
          + " only where they are the cheapest way.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what)
          && it.plan().contains("OR condition = [index=")
          && it.further().stream().allMatch(column -> it.isAsked(column, Or.class));
    }
  },
  LIKE_REJECTS_NULL(Set.of("hsqldb"), PlanWording.LIKE_REJECTS_NULL.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what)
          && it.further().size() == 1
          && it.isAsked(it.further().get(0), Like.class);
    }
  },
  NOT_NULL_WITH_HISTOGRAMS(Set.of("sqlite"), Underclaim.NOT_NULL_WITH_HISTOGRAMS.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what)
          && it.further().size() == 1
          && it.isAsked(it.further().get(0), NullTest.class);
    }
  },
  END_TRIM(Set.of("mariadb", "derby"), PlanWording.END_TRIM.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.goesFurther(what) && it.ours().remark().contains(" stands behind the range on ");
    }
  },
  IN_LEFT_OUT(Set.of("sqlite"), PlannerChoice.IN_LEFT_OUT.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.stopsShort(what) && it.isAsked(it.leftOut(), InList.class);
    }
  },
  LOOKUP_PREFERRED(Set.of("mariadb"), PlannerChoice.LOOKUP_PREFERRED.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.stopsShort(what) && it.isAsked(it.leftOut(), InList.class) && it.isLookedUp();
    }
  },
  JOIN_CONDITION_AFTERWARDS(
      Set.of("postgresql"), PlannerChoice.JOIN_CONDITION_AFTERWARDS.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.stopsShort(what)
          && it.plan()
              .matches(
                  "(?s).*\"Join Filter\":\"[^\"]*\\b"
                      + it.scan().alias()
                      + "\\."
                      + it.leftOut()
                      + "\\b.*");
    }
  },
  BEHIND_BLOOM_FILTER(Set.of("sqlite"), PlanWording.BEHIND_BLOOM_FILTER.explanation()) {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return what.equals("covering")
          && it.scan().covering().equals(Optional.of(false))
          && it.plan().contains("BLOOM FILTER ON " + it.scan().alias() + " ");
    }
  },
  ORDER_OF_NEXT(
      Set.of("sqlite", "mariadb"),
      "Behind a first table that is found by a whole unique key, one row for each value, the order"
          + " goes on in the table that is read next; the analysis says it of that table, which is"
          + " not compared, and only behind a single row.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.isInOrder(what)
          && it.scan().joined().size() > 1
          && (it.ours().path() == AccessPath.UNIQUE_LOOKUP || it.isFoundByUniqueKey());
    }
  },
  GROUPS_OF_SINGLE_ROWS(
      Set.of("mariadb"),
      "Groups of one table by a whole unique key are single rows, which need not be brought"
          + " together where the order is a part of the groups (source, sql_select.cc,"
          + " list_contains_unique_index, from memory); the analysis does not count on that.") {
    @Override
    boolean explains(String what, BenchmarkShape it) {
      return it.isInOrder(what) && it.ours().orderServed().orElse(true) && it.groupsByUniqueKey();
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

  /**
   * Whether this is why the two differ.
   *
   * @param what of matching, covering and ordered
   */
  abstract boolean explains(String what, BenchmarkShape it);

  static Optional<BenchmarkDifference> of(String database, String what, Comparison it) {
    BenchmarkShape shape = new BenchmarkShape(it);
    return Arrays.stream(values())
        .filter(fact -> fact.databases.contains(database))
        .filter(fact -> fact.explains(what, shape))
        .findFirst();
  }
}
