package dev.colonnade.planner;

import dev.colonnade.access.AccessPath;
import java.util.Set;

/**
 * Where the analysis claims more than this planner does: faults of ours, though small ones, until
 * the dialect says so.
 */
enum Overclaim implements KnownDifference {
  SINGLE_ROW_SORTED(
      Set.of("postgresql", "h2", "hsqldb", "derby", "mariadb"),
      "A unique look-up yields one row at most; the planner sorts it all the same.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.ours().candidate().path() == AccessPath.UNIQUE_LOOKUP;
    }
  },
  PRIMARY_KEY_COMPLETE(
      Set.of("mariadb"),
      "Once the seek key holds the whole primary key, one row at most is left, and the planner adds"
          + " no further columns to it.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && !it.table().primaryKey().isEmpty()
          && it.planner().containsAll(it.table().primaryKey());
    }
  },
  ROW_LIST_WITH_RANGE(
      Set.of("h2", "hsqldb"),
      "Where a list of rows meets another condition on one of its columns, the other condition is"
          + " taken.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching() && !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  ROW_VALUE_WITH_ROW_NUMBER(
      Set.of("sqlite"),
      "A comparison of rows goes no further than the row number, if that is a member.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && it.own().get(it.planner().size()).equals("id");
    }
  },
  DISTINCT_HASHED(
      Set.of("sqlite"),
      "DISTINCT is done with a temporary tree although the rows come in groups.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.query().select().startsWith("distinct ");
    }
  },
  SINGLE_VALUE_LIST(Set.of("hsqldb", "h2"), "IN with one value is not taken for an equality.") {
    @Override
    public boolean explains(Case it) {
      return !it.conditions(sql -> sql.matches(".* in \\([^,(]*\\)") || sql.contains(" or "))
          .isEmpty();
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
  OTHER_GROUP_INDEX(
      Set.of("h2"),
      "Only the first index of the table that groups is looked at, here the primary key's.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.query().grouped()
          && it.query().rest().contains("." + it.table().primaryKey().get(0));
    }
  },
  CONSTANT_SORTED(
      Set.of("mariadb"),
      "A column that is NULL, or lies between a value and the same value, is looked up like an"
          + " equality; some plans see in an order that it does not vary, others sort by it.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("ordered")
          && !it.conditions(sql -> sql.contains(" is null") || sql.contains(" between ")).isEmpty();
    }
  },
  EXPRESSION_VARIES(
      Set.of("sqlite"), "An expression that equals a value is sorted by all the same.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false) && it.query().rest().contains("(");
    }
  },
  UNIQUE_ENDS_ORDER(
      Set.of("sqlite"),
      "That nothing is asked of an order behind a unique key is seen only where the key is read in"
          + " order up to there, row number included.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("ordered")
          && it.query().rest().contains(",")
          && it.table().columns().stream()
              .filter(column -> column.values() == it.table().rows().size())
              .anyMatch(column -> it.query().rest().contains("." + column.name()));
    }
  },
  DAY_AS_TEXT(
      Set.of("derby"),
      "A day that is compared with a text bounds the scan, but fixes nothing for grouping; a list"
          + " of such texts bounds it like a range in any position.") {
    @Override
    public boolean explains(Case it) {
      boolean grouping = it.isOrder(false) && it.query().grouped();
      boolean list = it.isMatching() && it.planner().size() > it.own().size();
      return (grouping || list) && !it.conditions(sql -> sql.contains("= '20")).isEmpty();
    }
  },
  OUTER_JOIN_KEPT(
      Set.of("h2", "derby", "hsqldb", "sqlite"),
      "An outer join whose rows of NULLs another condition rejects stays an outer join here; the"
          + " analysis takes it for an inner one and carries equalities through it.") {
    @Override
    public boolean explains(Case it) {
      return it.query().from().contains(" left join ")
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size());
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
  },
  SUBQUERY_NOT_CARRIED(
      Set.of("derby"),
      "A value that a subquery under IN fixes is not carried to the column in front of IN.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && !it.query().below().isEmpty()
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size());
    }
  },
  DISTINCT_OF_JOIN(
      Set.of("mariadb"),
      "DISTINCT over a join collects its rows in a temporary table although they come in groups.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin() && it.isOrder(false) && it.query().select().startsWith("distinct ");
    }
  },
  CARRIED_TO_NEIGHBOURS(
      Set.of("h2"),
      "A value is carried over an equality between tables only where both conditions come to stand"
          + " side by side; the analysis always carries it.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin()
          && it.isMatching()
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size())
          && !it.conditions(sql -> sql.matches("\\w+\\.\\w+ = \\w+\\.\\w+")).isEmpty();
    }
  },
  SORTED_AFTER_JOIN(
      Set.of("derby"),
      "Rows of an outer or semi-join are sorted although the first table delivers them in order.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin()
          && it.isOrder(false)
          && (it.query().from().contains(" left join ") || !it.query().below().isEmpty());
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
