package dev.colonnade.planner;

import dev.colonnade.planner.TestTable.TestKey;
import java.util.Set;

/**
 * Where the analysis claims more than this planner does: faults of ours, though small ones, until
 * the dialect says so.
 */
enum Overclaim implements KnownDifference {
  RANGE_BESIDE_EQUALITY(
      Set.of("h2"),
      "Of several conditions on one column that exclude each other, or that equalities elsewhere"
          + " bring, another one is looked up, or on a descending column what lies between them.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && (isWidened(it, it.planner().size() - 1)
              || isAskedTwice(it, it.planner().size())
              || (!it.planner().isEmpty() && isAskedTwice(it, it.planner().size() - 1)));
    }

    private boolean isWidened(Case it, int position) {
      return it.isJoin() && position >= 0 && it.index().key().get(position).descending();
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
          + " first is joined; beside a join, an equality that it brings may be taken.") {
    @Override
    public boolean explains(Case it) {
      boolean rows = !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
      boolean others =
          it.query().from().contains(" in (select ")
              || it.conditions(sql -> sql.contains(" in (") || sql.contains(" or ")).size() > 1;
      return rows && (others || it.isJoin()) && (it.isMatching() || it.isOrder(true));
    }
  },
  SKIPPED_NULLS(
      Set.of("sqlite"),
      "In a scan that jumps over a column, an order that says where NULLs stand is sorted.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.word().skips() && it.query().rest().contains(" nulls ");
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
  DERIVED_UNDER_DISTINCT(
      Set.of("sqlite"),
      "Under DISTINCT, a derived table that a LEFT JOIN adds is worked out by itself, with every"
          + " column.") {
    @Override
    public boolean explains(Case it) {
      return it.query().select().startsWith("distinct ")
          && it.query().from().contains(" left join (select * from " + it.table().name());
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
