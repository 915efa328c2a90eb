package dev.colonnade.planner;

import dev.colonnade.planner.TestTable.TestKey;
import java.util.Set;

/**
 * Where the analysis claims more than this planner does: faults of ours, though small ones, until
 * the dialect says so.
 */
enum Overclaim implements KnownDifference {
  ROW_LIST_FIRST(
      Set.of("h2"),
      "A list of rows that is the last of three conditions may be looked up before an equality on"
          + " its first column, and alone.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() == 1
          && it.startsAlike(1)
          && it.equates(it.own().get(0))
          && !it.conditions(
                  sql ->
                      sql.startsWith("(" + it.table().name() + "." + it.own().get(0) + ", ")
                          && sql.contains(") in (("))
              .isEmpty();
    }
  },
  ORDER_OF_MERGED(
      Set.of("mariadb"),
      "A join with a derived table, though it is merged, is sorted where the order goes through an"
          + " equality with it.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.isJoin() && it.query().from().contains("(select * from ");
    }
  },
  EXPRESSION_OF_OUTER(
      Set.of("sqlite"),
      "The value of an indexed expression of the table that a LEFT JOIN adds is worked out from the"
          + " row.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("covering")
          && it.index().key().stream().anyMatch(TestKey::expression)
          && it.query().from().contains(" left join " + it.table().name());
    }
  },
  DAY_AS_TEXT_CARRIED(
      Set.of("derby"), "A day that equals a text carries it to no column of another table.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.isJoin()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && !it.own().get(it.planner().size()).contains("(")
          && it.table().column(it.own().get(it.planner().size())).kind() == ValueKind.DAY;
    }
  },
  ORDER_THROUGH_EQUALITY(
      Set.of("mariadb"),
      "An order by a column of another table that equals one of this is not always taken for an"
          + " order of this one.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.isJoin()
          && !it.query().rest().contains(" by " + it.table().name() + ".");
    }
  },
  TRUTH_TEST_ORDER(
      Set.of("derby"),
      "A boolean column under NOT bounds the scan, but the planner does not see in an order that it"
          + " has one value; it does for a comparison with a literal.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.table().columns().stream()
              .filter(column -> column.kind() == ValueKind.TRUTH)
              .anyMatch(column -> it.query().rest().contains("." + column.name()));
    }
  };

  private final Set<String> databases;
  private final String explanation;

  Overclaim(Set<String> databases, String explanation) {
    this.databases = databases;
    this.explanation = explanation;
  }

  @Override
  public Set<String> databases() {
    return databases;
  }

  @Override
  public String explanation() {
    return explanation;
  }
}
