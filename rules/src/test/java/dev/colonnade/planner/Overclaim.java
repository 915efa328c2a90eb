package dev.colonnade.planner;

import java.util.Locale;
import java.util.Set;

/**
 * Where the analysis claims more than this planner does: faults of ours, though small ones, until
 * the dialect says so.
 */
enum Overclaim implements KnownDifference {
  LIST_DISPLACED(
      Set.of("h2"),
      "A list on the leading column bounds nothing where another condition on the index comes"
          + " before it in the order in which they are evaluated; more entries are counted.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().isEmpty()
          && it.own().size() == 1
          && it.word().plan().contains(it.own().get(0).toUpperCase(Locale.ROOT) + " IN(");
    }
  },
  RANGE_BESIDE_EQUALITY(
      Set.of("h2"),
      "A range or a list beside an equality on one column can take the place of it.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && (isAskedTwice(it, it.planner().size())
              || (!it.planner().isEmpty() && isAskedTwice(it, it.planner().size() - 1)));
    }

    private boolean isAskedTwice(Case it, int position) {
      String column = it.own().get(position);
      return it.conditions(sql -> sql.contains("." + column + " ")).size() > 1;
    }
  },
  REVERSED_RANGE(
      Set.of("hsqldb"), "Read backwards, a range behind an equality does not bound the scan.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && (it.query().rest().contains(" desc") || it.query().select().contains("max("));
    }
  },
  NEGATED_COMPARISON(
      Set.of("hsqldb"),
      "NOT in front of a comparison is not taken into it, so that it bounds nothing.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && !it.conditions(sql -> sql.startsWith("not (")).isEmpty();
    }
  },
  CONSTANT_SORTED(
      Set.of("mariadb"),
      "A column that lies between a value and the same value is looked up like an equality, and"
          + " sorted by where the order names nothing else.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && !it.conditions(sql -> sql.contains(" between ") || sql.contains(" >= ")).isEmpty();
    }
  },
  ORDER_OF_MERGED(
      Set.of("mariadb", "derby"),
      "A join with a derived table, though it is merged, is sorted: on Derby whatever the order, on"
          + " MariaDB where the order goes through an equality with it.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.isJoin() && it.query().from().contains("(select * from ");
    }
  },
  LIST_ORDER(
      Set.of("hsqldb"),
      "Of several lists on the leading column, one of rows among them, the one that is written"
          + " first is joined.") {
    @Override
    public boolean explains(Case it) {
      boolean rows = !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
      boolean others =
          it.query().from().contains(" in (select ")
              || it.conditions(sql -> sql.contains(" in (") || sql.contains(" or ")).size() > 1;
      return rows && others && (it.isMatching() || it.isOrder(true));
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
