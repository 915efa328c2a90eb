package dev.colonnade.planner;

import java.util.Set;

/**
 * Where the planner could use the index as the analysis says, and takes another way on cost or by a
 * switch of ours.
 */
enum PlannerChoice implements KnownDifference {
  RANGE_LEFT_OUT(
      Set.of("mariadb", "sqlite"),
      "A range that excludes little, such as <>, is left out where reading on in order costs"
          + " less.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && it.endsWithRange();
    }
  },
  ROW_LIST_BY_BITMAPS(
      Set.of("postgresql"),
      "A list of rows is searched for with one bitmap each, and bitmaps are switched off here.") {
    @Override
    public boolean explains(Case it) {
      return !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  IN_LEFT_OUT(
      Set.of("sqlite"),
      "An IN list behind other conditions is left out of the seek key where the statistics say that"
          + " stepping over entries costs less, or a range on its column is taken in its place.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && (isList(it, it.planner().size())
              || (!it.planner().isEmpty() && isList(it, it.planner().size() - 1)));
    }

    private boolean isList(Case it, int position) {
      String column = it.own().get(position);
      return it.query().from().contains("." + column + " in (select ")
          || !it.conditions(sql -> PlannerChoice.isList(sql, column)).isEmpty();
    }
  },
  LIST_BESIDE_EQUALITY(
      Set.of("sqlite"),
      "Of an equality and a list or a subquery's values on one column, the latter may be looked up,"
          + " after which the order is not served.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.own().stream()
              .anyMatch(
                  column ->
                      it.equates(column)
                          && (it.query().from().contains("." + column + " in (select ")
                              || !it.conditions(sql -> isList(sql, column)).isEmpty()));
    }
  },
  LOOKUP_PREFERRED(
      Set.of("mariadb"),
      "Where a look-up by equalities, with values of another table, of one row at most or of NULL"
          + " beside a value, and a"
          + " longer key with ranges both serve, cost decides; the analysis takes the longer"
          + " one.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && (it.isJoin() || !it.conditions(sql -> sql.contains(" is null or ")).isEmpty())
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size());
    }
  },
  WHOLE_INDEX_READ(
      Set.of("mariadb"), "The whole index is read where that costs no more than its parts.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().isEmpty()
          && it.word()
              .plan()
              .contains("\"table_name\":\"" + it.table().name() + "\",\"access_type\":\"index\"");
    }
  },
  IMPLIED_LEFT_OUT(
      Set.of("sqlite"),
      "What the predicate of a partial index says is not looked up; another condition on the column"
          + " is.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.index()
              .predicate()
              .filter(text -> it.conditions(sql -> sql.endsWith("." + text)).size() == 1)
              .isPresent();
    }
  },
  SKIP_PREFERRED(
      Set.of("sqlite"), "The planner may jump over a column although a condition bounds it.") {
    @Override
    public boolean explains(Case it) {
      return it.word().skips() && !it.own().isEmpty();
    }
  },
  JOIN_CONDITION_AFTERWARDS(
      Set.of("postgresql"),
      "The condition between the tables is tested on the joined rows (Join Filter) where the"
          + " planner expects no row or few; the index could have been searched by it.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.word().plan().contains("Join Filter")
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size());
    }
  };

  private final Set<String> databases;
  private final String explanation;

  PlannerChoice(Set<String> databases, String explanation) {
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

  private static boolean isList(String sql, String column) {
    return sql.contains("." + column + " in (")
        || (sql.contains("." + column + " = ") && sql.contains(" or "));
  }
}
