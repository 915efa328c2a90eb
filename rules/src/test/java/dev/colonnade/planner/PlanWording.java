package dev.colonnade.planner;

import java.util.Set;

/** Where the plan counts or words otherwise what comes to the same entries read. */
enum PlanWording implements KnownDifference {
  END_TRIM(
      Set.of("mariadb", "h2", "derby"),
      "Behind a range the next key columns go into the start and stop key. They trim the two ends"
          + " of the stretch only, so they are not called matching.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && it.endsWithRange();
    }
  },
  IMPLIED_BY_PREDICATE(
      Set.of("postgresql"),
      "A condition that the predicate of a partial index guarantees is not tested again: it is no"
          + " seek condition, and its column need not be in the index; the stretch that is read is"
          + " the same.") {
    @Override
    public boolean explains(Case it) {
      boolean shorter =
          it.isMatching()
              && it.planner().size() < it.own().size()
              && it.own().stream()
                  .anyMatch(
                      column ->
                          it.index()
                              .predicate()
                              .filter(p -> p.startsWith(column + " "))
                              .isPresent());
      boolean covers =
          it.what().equals("covering")
              && it.index().predicate().isPresent()
              && it.word().covering().orElse(false);
      return shorter || covers;
    }
  },
  DISTINCT_OF_ONE(
      Set.of("postgresql"),
      "DISTINCT of fixed terms alone becomes LIMIT 1; a sort in the plan belongs to a subquery that"
          + " is joined.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(false)
          && it.query().select().startsWith("distinct ")
          && !it.query().firstRows()
          && it.word().plan().startsWith("[{\"Plan\":{\"Node Type\":\"Limit\"");
    }
  },
  LIKE_REJECTS_NULL(Set.of("hsqldb"), "LIKE without a fixed head seeks past the NULLs.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching() && !it.conditions(sql -> sql.contains(" like '%")).isEmpty();
    }
  },
  NOT_NULL_COLUMN(
      Set.of("hsqldb"),
      "IS NOT NULL is a seek condition even where the column is NOT NULL and every entry satisfies"
          + " it.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.own().isEmpty()
          && it.planner().size() == 1
          && !it.conditions(sql -> sql.contains("." + it.planner().get(0) + " is not null"))
              .isEmpty();
    }
  },
  EXTREME_SKIPS_NULLS(
      Set.of("hsqldb", "postgresql"),
      "MIN and MAX seek past the NULLs at one end of the index, which no condition asks for.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() == it.own().size() + 1
          && it.startsAlike(it.own().size())
          && it.query().sql().contains("(" + it.table().name() + "." + last(it) + ")");
    }
  },
  OTHER_SORT_INDEX(
      Set.of("hsqldb"),
      "The plan marks an order as served where another index could serve it, here the primary"
          + " key's.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && !it.table().primaryKey().isEmpty()
          && it.query()
              .rest()
              .contains("by " + it.table().name() + "." + it.table().primaryKey().get(0));
    }
  },
  CLUSTERED_BY_UNIQUE(
      Set.of("mariadb"),
      "A table without primary key is stored in the order of its first unique index without"
          + " nullable columns, whose scan is a scan of the rows.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("covering")
          && it.table().primaryKey().isEmpty()
          && it.index().unique();
    }
  },
  UNIQUE_AND_ROW_NUMBER(
      Set.of("sqlite"),
      "The row number behind the key is compared as well, though the unique key is complete.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.index().unique()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && it.planner().get(it.own().size()).equals("id");
    }
  },
  BEHIND_BLOOM_FILTER(
      Set.of("sqlite"),
      "Behind a Bloom filter the plan does not mark a scan as covering although the index holds"
          + " every column.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("covering") && it.word().plan().contains("BLOOM FILTER ON");
    }
  },
  JOIN_CONDITION_LISTED(
      Set.of("hsqldb"),
      "The plan lists the condition between the tables beside the bounds of a range; it does not"
          + " say that the scan seeks by it.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin()
          && it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size());
    }
  };

  private static String last(Case it) {
    return it.planner().get(it.own().size());
  }

  private final Set<String> databases;
  private final String explanation;

  PlanWording(Set<String> databases, String explanation) {
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
