package dev.colonnade.planner;

import dev.colonnade.access.AccessPath;
import dev.colonnade.access.Bound;
import dev.colonnade.planner.Prediction.OurWord;
import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Named ways in which a plan says something else than the analysis. Most are facts of the database
 * that the analysis leaves out on purpose; some are places where the analysis claims more than this
 * planner does, such as {@code OUTER_JOIN_KEPT}, {@code SUBQUERY_NOT_CARRIED} and {@code
 * CARRIED_TO_NEIGHBOURS}. Each was named from what a run showed, so a new one is a finding.
 */
enum KnownDifference {
  END_TRIM(
      Set.of("mariadb", "h2", "derby"),
      "Behind a range the next key columns go into the start and stop key. They trim the two ends"
          + " of the stretch only, so they are not called matching.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && it.endsWithRange();
    }
  },
  RANGE_LEFT_OUT(
      Set.of("mariadb", "sqlite"),
      "A range that excludes little, such as <>, is left out where reading on in order costs"
          + " less.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && it.endsWithRange();
    }
  },
  SINGLE_ROW_SORTED(
      Set.of("postgresql", "h2", "hsqldb", "derby", "mariadb"),
      "A unique look-up yields one row at most; the planner sorts it all the same.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(false) && it.ours().candidate().path() == AccessPath.UNIQUE_LOOKUP;
    }
  },
  PRIMARY_KEY_COMPLETE(
      Set.of("mariadb"),
      "Once the seek key holds the whole primary key, one row at most is left, and the planner adds"
          + " no further columns to it.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && !it.table().primaryKey().isEmpty()
          && it.planner().containsAll(it.table().primaryKey());
    }
  },
  BRANCH_REFUTED(
      Set.of("mariadb"),
      "A column that equals a constant is replaced by it everywhere; an OR loses the branch that"
          + " becomes false, and the other one bounds the scan.") {
    @Override
    boolean explains(Case it) {
      return ((it.isMatching() && it.planner().size() > it.own().size()) || it.isOrder(true))
          && it.conditions(sql -> sql.contains(" or ")).stream()
              .anyMatch(condition -> condition.columns().size() > 1);
    }
  },
  IMPLIED_BY_PREDICATE(
      Set.of("postgresql"),
      "A condition that the predicate of a partial index guarantees is not tested again: it is no"
          + " seek condition, and its column need not be in the index; the stretch that is read is"
          + " the same.") {
    @Override
    boolean explains(Case it) {
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
  ROW_LIST_WITH_RANGE(
      Set.of("h2", "hsqldb"),
      "Where a list of rows meets another condition on one of its columns, the other condition is"
          + " taken.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching() && !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  ROW_LIST_BY_BITMAPS(
      Set.of("postgresql"),
      "A list of rows is searched for with one bitmap each, and bitmaps are switched off here.") {
    @Override
    boolean explains(Case it) {
      return !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  DISTINCT_OF_UNIQUE(
      Set.of("mariadb", "sqlite"), "Rows that contain a unique key are distinct as they are.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true)
          && it.query().select().startsWith("distinct ")
          && (it.query().select().contains(".id")
              || it.query().select().contains("." + it.table().columns().get(1).name()));
    }
  },
  SINGLE_ROW_KNOWN(
      Set.of("sqlite", "mariadb"),
      "Equalities on the whole primary key leave one row at most, whatever the index; no sort is"
          + " planned.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true)
          && !it.table().primaryKey().isEmpty()
          && it.table().primaryKey().stream().allMatch(it::equates);
    }
  },
  NOT_NULL_WITH_HISTOGRAMS(
      Set.of("sqlite"),
      "A library built with histograms (STAT4) seeks for IS NOT NULL, one built without does not;"
          + " the analysis takes the latter, which promises less.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() == it.own().size() + 1
          && it.startsAlike(it.own().size())
          && !it.conditions(
                  sql -> sql.contains("." + it.planner().get(it.own().size()) + " is not null"))
              .isEmpty();
    }
  },
  IN_LEFT_OUT(
      Set.of("sqlite"),
      "An IN list behind other conditions is left out of the seek key where the statistics say that"
          + " stepping over entries costs less.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() < it.own().size()
          && it.startsAlike(it.planner().size())
          && !it.conditions(sql -> isList(sql, it.own().get(it.planner().size()))).isEmpty();
    }
  },
  ROW_VALUE_WITH_ROW_NUMBER(
      Set.of("sqlite"),
      "A comparison of rows goes no further than the row number, if that is a member.") {
    @Override
    boolean explains(Case it) {
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
    boolean explains(Case it) {
      return it.isOrder(false) && it.query().select().startsWith("distinct ");
    }
  },
  ALWAYS_TRUE(
      Set.of("postgresql"),
      "From version 17, IS NOT NULL on a column that is NOT NULL is dropped, and with it the need"
          + " to read the column.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("covering")
          && !it.conditions(sql -> sql.endsWith(" is not null")).isEmpty();
    }
  },
  PROOF_BEYOND_OURS(
      Set.of("postgresql", "sqlite"),
      "The planner proves the predicate of a partial index by comparing texts under their collation"
          + " or by knowing a function as strict; the analysis proves less.") {
    @Override
    boolean explains(Case it) {
      return it.ours().candidate().remark().contains("does not imply");
    }
  },
  SINGLE_VALUE_LIST(Set.of("hsqldb", "h2"), "IN with one value is not taken for an equality.") {
    @Override
    boolean explains(Case it) {
      return !it.conditions(sql -> sql.matches(".* in \\([^,(]*\\)") || sql.contains(" or "))
          .isEmpty();
    }
  },
  LIKE_REJECTS_NULL(Set.of("hsqldb"), "LIKE without a fixed head seeks past the NULLs.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching() && !it.conditions(sql -> sql.contains(" like '%")).isEmpty();
    }
  },
  REVERSED_RANGE(
      Set.of("hsqldb"), "Read backwards, a range behind an equality does not bound the scan.") {
    @Override
    boolean explains(Case it) {
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
    boolean explains(Case it) {
      return it.isOrder(false)
          && it.query().grouped()
          && it.query().rest().contains("." + it.table().primaryKey().get(0));
    }
  },
  INCLUDED_IN_ORDER(Set.of("h2"), "Included columns are part of the order of the entries.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true) && !it.index().included().isEmpty();
    }
  },
  NOT_NULL_COLUMN(
      Set.of("hsqldb"),
      "IS NOT NULL is a seek condition even where the column is NOT NULL and every entry satisfies"
          + " it.") {
    @Override
    boolean explains(Case it) {
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
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() == it.own().size() + 1
          && it.startsAlike(it.own().size())
          && it.query().select().contains("." + it.planner().get(it.own().size()) + ")");
    }
  },
  OTHER_SORT_INDEX(
      Set.of("hsqldb"),
      "The plan marks an order as served where another index could serve it, here the primary"
          + " key's.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true)
          && !it.table().primaryKey().isEmpty()
          && it.query()
              .rest()
              .contains("by " + it.table().name() + "." + it.table().primaryKey().get(0));
    }
  },
  SKIP_ORDER(
      Set.of("sqlite"),
      "In a skip scan the equality behind the column that is skipped bounds each stretch, and an"
          + " order may pass it over.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true) && it.word().skips();
    }
  },
  GROUP_BY_KEY(
      Set.of("postgresql", "sqlite"),
      "Where the primary key is grouped by, the other terms are dropped: they depend on it.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true)
          && it.query().rest().contains("group by")
          && !it.table().primaryKey().isEmpty()
          && it.table().primaryKey().stream()
              .allMatch(key -> it.query().rest().contains("." + key));
    }
  },
  CONSTANT_SORTED(
      Set.of("mariadb"),
      "A column that is NULL, or lies between a value and the same value, is looked up like an"
          + " equality; some plans see in an order that it does not vary, others sort by it.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("ordered")
          && !it.conditions(sql -> sql.contains(" is null") || sql.contains(" between ")).isEmpty();
    }
  },
  EXPRESSION_VARIES(
      Set.of("sqlite"), "An expression that equals a value is sorted by all the same.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(false) && it.query().rest().contains("(");
    }
  },
  UNIQUE_ENDS_ORDER(
      Set.of("sqlite"),
      "That nothing is asked of an order behind a unique key is seen only where the key is read in"
          + " order up to there, row number included.") {
    @Override
    boolean explains(Case it) {
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
    boolean explains(Case it) {
      boolean grouping = it.isOrder(false) && it.query().grouped();
      boolean list = it.isMatching() && it.planner().size() > it.own().size();
      return (grouping || list) && !it.conditions(sql -> sql.contains("= '20")).isEmpty();
    }
  },
  ROW_LIST_IN_ORDER(Set.of("hsqldb"), "A list of rows is sorted before it is joined.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true) && !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  ROW_WITH_RANGE(
      Set.of("sqlite", "postgresql"),
      "A comparison of rows bounds all its columns even beside a range on the first of them.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && (it.word().plan().contains("ROW(")
              || it.word().plan().contains(")>(")
              || it.word().plan().contains(")<("));
    }
  },
  CLUSTERED_BY_UNIQUE(
      Set.of("mariadb"),
      "A table without primary key is stored in the order of its first unique index without"
          + " nullable columns, whose scan is a scan of the rows.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("covering")
          && it.table().primaryKey().isEmpty()
          && it.index().unique();
    }
  },
  UNIQUE_AND_ROW_NUMBER(
      Set.of("sqlite"),
      "The row number behind the key is compared as well, though the unique key is complete.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.index().unique()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && it.planner().get(it.own().size()).equals("id");
    }
  },
  SKIP_PREFERRED(
      Set.of("sqlite"), "The planner may jump over a column although a condition bounds it.") {
    @Override
    boolean explains(Case it) {
      return it.word().skips() && !it.own().isEmpty();
    }
  },
  SKIP_OVER_UNKNOWN(
      Set.of("sqlite"),
      "The planner knows how many values an expression, or a group of columns, has; the statistics"
          + " file knows columns only, so that no skip scan is promised.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.word().skips()
          && it.own().isEmpty()
          && (it.index().key().get(0).expression() || it.word().plan().contains("AND ANY("));
    }
  },
  EXPRESSION_IN_OUTPUT(
      Set.of("sqlite"),
      "The value of an indexed expression is taken from the index wherever the query uses it; the"
          + " analysis credits that in conditions only.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("covering")
          && it.word().covering().orElse(false)
          && it.index().key().stream().anyMatch(TestKey::expression);
    }
  },
  BEHIND_BLOOM_FILTER(
      Set.of("sqlite"),
      "Behind a Bloom filter the plan does not mark a scan as covering although the index holds"
          + " every column.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("covering") && it.word().plan().contains("BLOOM FILTER ON");
    }
  },
  OUTER_JOIN_KEPT(
      Set.of("h2", "derby", "hsqldb", "sqlite"),
      "An outer join whose rows of NULLs another condition rejects stays an outer join here; the"
          + " analysis takes it for an inner one and carries equalities through it.") {
    @Override
    boolean explains(Case it) {
      return it.query().from().contains(" left join ")
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size());
    }
  },
  CONDITION_THROUGH_EQUALITY(
      Set.of("mariadb", "derby", "sqlite"),
      "A condition on one column of an equality between tables, such as IS NOT NULL or LIKE, is"
          + " asked of the other column as well; the analysis carries comparisons with values and"
          + " lists only.") {
    @Override
    boolean explains(Case it) {
      return it.isJoin()
          && it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size());
    }
  },
  TRUTH_TEST_ORDER(
      Set.of("derby"),
      "A boolean column under NOT bounds the scan, but the planner does not see in an order that it"
          + " has one value; it does for a comparison with a literal.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(false)
          && it.table().columns().stream()
              .filter(column -> column.kind() == ValueKind.TRUTH)
              .anyMatch(column -> it.query().rest().contains("." + column.name()));
    }
  },
  JOIN_CONDITION_AFTERWARDS(
      Set.of("postgresql"),
      "The condition between the tables is tested on the joined rows (Join Filter) where the"
          + " planner expects no row or few; the index could have been searched by it.") {
    @Override
    boolean explains(Case it) {
      return it.isMatching()
          && it.word().plan().contains("Join Filter")
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size());
    }
  },
  JOIN_CONDITION_LISTED(
      Set.of("hsqldb"),
      "The plan lists the condition between the tables beside the bounds of a range; it does not"
          + " say that the scan seeks by it.") {
    @Override
    boolean explains(Case it) {
      return it.isJoin()
          && it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size());
    }
  },
  NULL_SAFE_ORDER(
      Set.of("sqlite"),
      "IS with a value bounds the scan like an equality; whether an order takes the column for"
          + " fixed depends on where it stands. The analysis does not count on it.") {
    @Override
    boolean explains(Case it) {
      return it.isOrder(true) && !it.conditions(sql -> sql.contains(" is ")).isEmpty();
    }
  },
  KNOWN_FROM_PREDICATE(
      Set.of("sqlite"),
      "A value that the predicate of a partial index fixes need not be read for an order either.") {
    @Override
    boolean explains(Case it) {
      return it.what().equals("covering")
          && it.word().covering().orElse(false)
          && it.index().predicate().filter(text -> text.contains(" = ")).isPresent();
    }
  },
  SUBQUERY_NOT_CARRIED(
      Set.of("derby"),
      "A value that a subquery under IN fixes is not carried to the column in front of IN.") {
    @Override
    boolean explains(Case it) {
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
    boolean explains(Case it) {
      return it.isJoin() && it.isOrder(false) && it.query().select().startsWith("distinct ");
    }
  },
  TRUTH_TEST_LAST(
      Set.of("derby"),
      "A boolean column tested by itself seeks, and has one value in an order, only where it stands"
          + " last behind WHERE (probed); the analysis never counts on it.") {
    @Override
    boolean explains(Case it) {
      List<TestCondition> all = it.query().conditions();
      return !all.isEmpty()
          && all.get(all.size() - 1).sql().matches("\\w+\\.\\w+")
          && (it.isOrder(true) || (it.isMatching() && it.planner().size() > it.own().size()));
    }
  },
  CARRIED_TO_NEIGHBOURS(
      Set.of("h2"),
      "A value is carried over an equality between tables only where both conditions come to stand"
          + " side by side; the analysis always carries it.") {
    @Override
    boolean explains(Case it) {
      return it.isJoin()
          && it.isMatching()
          && it.own().size() > it.planner().size()
          && it.startsAlike(it.planner().size())
          && !it.conditions(sql -> sql.matches("\\w+\\.\\w+ = \\w+\\.\\w+")).isEmpty();
    }
  },
  EXPRESSION_FIXED_ELSEWHERE(
      Set.of("postgresql"),
      "An expression over another table that equals a value orders nothing; the analysis drops"
          + " columns of other tables only.") {
    @Override
    boolean explains(Case it) {
      return it.isJoin() && it.isOrder(true) && it.query().rest().contains("(");
    }
  },
  SORTED_AFTER_JOIN(
      Set.of("derby"),
      "Rows of an outer or semi-join are sorted although the first table delivers them in order.") {
    @Override
    boolean explains(Case it) {
      return it.isJoin()
          && it.isOrder(false)
          && (it.query().from().contains(" left join ") || !it.query().below().isEmpty());
    }
  };

  private final Set<String> databases;
  private final String explanation;

  KnownDifference(Set<String> databases, String explanation) {
    this.databases = databases;
    this.explanation = explanation;
  }

  abstract boolean explains(Case it);

  /** The fact in a sentence. */
  String explanation() {
    return explanation;
  }

  /**
   * One difference on one triple.
   *
   * @param what matching, covering or ordered
   */
  record Case(
      String database,
      String what,
      TestTable table,
      TestQuery query,
      TestIndex index,
      OurWord ours,
      PlannerWord word) {
    boolean isJoin() {
      return query.tables().size() > 1;
    }

    boolean isMatching() {
      return what.equals("matching");
    }

    boolean isOrder(boolean planner) {
      return what.equals("ordered") && word.ordered().equals(Optional.of(planner));
    }

    List<String> planner() {
      return word.matching().orElse(List.of());
    }

    List<String> own() {
      return ours.matching();
    }

    boolean startsAlike(int columns) {
      return planner().size() >= columns
          && own().size() >= columns
          && planner().subList(0, columns).equals(own().subList(0, columns));
    }

    boolean endsWithRange() {
      int size = ours.candidate().matching().size();
      return size > 0
          && ours.access().demand().boundsOn(ours.candidate().matching().get(size - 1)).stream()
              .limit(1)
              .map(Bound::kind)
              .noneMatch(Bound.Kind::isPoint);
    }

    boolean equates(String column) {
      return !conditions(
              sql ->
                  sql.contains("." + column + " = ")
                      || sql.endsWith(" = " + table.name() + "." + column)
                      || sql.contains("." + column + " is ")
                      || sql.contains("." + column + " <=> "))
          .isEmpty();
    }

    List<TestCondition> conditions(java.util.function.Predicate<String> test) {
      return query.conditions().stream()
          .filter(it -> it.sql().contains(table.name() + "."))
          .filter(it -> test.test(it.sql()))
          .toList();
    }
  }

  private static boolean isList(String sql, String column) {
    return sql.contains("." + column + " in (")
        || (sql.contains("." + column + " = ") && sql.contains(" or "));
  }

  /** The fact that explains a difference, if one does. */
  static Optional<KnownDifference> of(Case difference) {
    return Arrays.stream(values())
        .filter(it -> it.databases.contains(difference.database()))
        .filter(it -> it.explains(difference))
        .findFirst();
  }
}
