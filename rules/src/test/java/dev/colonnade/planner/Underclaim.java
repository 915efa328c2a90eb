package dev.colonnade.planner;

import dev.colonnade.access.AccessPath;
import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestKey;
import java.util.Set;
import java.util.regex.Pattern;

/** Where the planner does more than the analysis promises. */
enum Underclaim implements KnownDifference {
  BRANCH_REFUTED(
      Set.of("mariadb"),
      "A column that equals a constant is replaced by it everywhere; an OR loses the branch that"
          + " becomes false, and the other one bounds the scan.") {
    @Override
    public boolean explains(Case it) {
      return (it.seeksFurther() || it.isOrder(true))
          && it.conditions(sql -> sql.contains(" or ")).stream()
              .filter(condition -> condition.columns().size() > 1)
              .filter(condition -> it.isOrder(true) || condition.columns().contains(it.next()))
              .anyMatch(condition -> condition.columns().stream().anyMatch(it::equates));
    }
  },
  DISTINCT_OF_UNIQUE(
      Set.of("mariadb", "sqlite"), "Rows that contain a unique key are distinct as they are.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && it.query().select().startsWith("distinct ")
          && (it.query().select().contains(".id")
              || it.query().select().contains("." + it.table().columns().get(1).name()));
    }
  },
  SINGLE_ROW_KNOWN(
      Set.of("sqlite", "mariadb", "derby"),
      "Equalities on the whole primary key leave one row at most, whatever the index; no sort is"
          + " planned.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && !it.table().primaryKey().isEmpty()
          && it.table().primaryKey().stream().allMatch(it::equates);
    }
  },
  LIST_TAKEN_FIRST(
      Set.of("h2"),
      "A list of values or rows, or the rows of a subquery, bounds the scan where it is evaluated"
          + " before the other conditions on the index, which depends on the wording where there"
          + " are more than two; the analysis does not count on that.") {
    @Override
    public boolean explains(Case it) {
      String leading = it.table().name() + "." + it.index().key().get(0).text();
      return it.seeksFurther()
          && it.own().size() <= 1
          && (it.query().from().contains(leading + " in (select ")
              || it.query().conditions().stream()
                  .map(TestCondition::sql)
                  .filter(sql -> sql.contains(" in (") || sql.contains(" or "))
                  .anyMatch(sql -> sql.contains(leading + " ") || sql.contains(leading + ",")));
    }
  },
  ORDERED_BY_NEXT(
      Set.of("sqlite"),
      "Behind a table of which one row at most is read, the next one may bring the order.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin()
          && it.isOrder(true)
          && it.ours().candidate().path() == AccessPath.UNIQUE_LOOKUP;
    }
  },
  NOT_NULL_WITH_HISTOGRAMS(
      Set.of("sqlite"),
      "A library built with histograms (STAT4) seeks for IS NOT NULL, one built without does not;"
          + " the analysis takes the latter, which promises less.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() == it.own().size() + 1
          && it.startsAlike(it.own().size())
          && !it.conditions(
                  sql -> sql.contains("." + it.planner().get(it.own().size()) + " is not null"))
              .isEmpty();
    }
  },
  ALWAYS_TRUE(
      Set.of("sqlite"),
      "IS NOT NULL on a column that is NOT NULL is dropped within a derived table, or where the"
          + " column is otherwise read within an indexed expression only; the analysis reads it.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("covering")
          && it.word().covering().orElse(false)
          && (it.index().key().stream().anyMatch(TestKey::expression)
              || it.query().from().contains("(select * from " + it.table().name() + TestQuery.MARK))
          && !it.conditions(sql -> sql.endsWith(" is not null")).isEmpty();
    }
  },
  PROOF_BEYOND_OURS(
      Set.of("postgresql", "sqlite"),
      "The planner proves the predicate of a partial index by comparing texts under their collation"
          + " or by knowing a function as strict; the analysis proves less.") {
    @Override
    public boolean explains(Case it) {
      return it.ours().candidate().remark().contains("does not imply");
    }
  },
  INCLUDED_IN_ORDER(Set.of("h2"), "Included columns are part of the order of the entries.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true) && !it.index().included().isEmpty();
    }
  },
  SKIP_ORDER(
      Set.of("sqlite"),
      "In a skip scan the equality behind the column that is skipped bounds each stretch, and an"
          + " order may pass it over.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true) && it.word().skips();
    }
  },
  ROW_LIST_IN_ORDER(Set.of("hsqldb"), "A list of rows is sorted before it is joined.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true) && !it.conditions(sql -> sql.contains(") in ((")).isEmpty();
    }
  },
  ROW_WITH_RANGE(
      Set.of("sqlite", "postgresql"),
      "A comparison of rows bounds all its columns even beside a range on the first of them.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && (it.word().plan().contains("ROW(")
              || it.word().plan().contains(")>(")
              || it.word().plan().contains(")<("));
    }
  },
  SKIP_OVER_UNKNOWN(
      Set.of("sqlite"),
      "The planner knows how many values an expression, or a group of columns, has; the statistics"
          + " file knows columns only, so that no skip scan is promised.") {
    @Override
    public boolean explains(Case it) {
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
    public boolean explains(Case it) {
      return it.what().equals("covering")
          && it.word().covering().orElse(false)
          && it.index().key().stream().anyMatch(TestKey::expression);
    }
  },
  CONDITION_THROUGH_EQUALITY(
      Set.of("mariadb", "derby", "sqlite"),
      "A condition on one column of an equality between tables, such as IS NOT NULL or LIKE, is"
          + " asked of the other column as well; the analysis carries comparisons with values and"
          + " lists only, and none between columns of one table.") {
    @Override
    public boolean explains(Case it) {
      String own = it.table().name() + "\\.\\w+";
      return it.seeksFurther()
          && (it.isPaired(it.next())
              || it.conditions(sql -> sql.matches(own + " < " + own)).stream()
                  .anyMatch(condition -> condition.columns().contains(it.next())));
    }
  },
  SKIP_THROUGH_EQUALITY(
      Set.of("sqlite"),
      "A condition that comes through an equality with another table lets a scan jump over the"
          + " leading column.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching() && it.isJoin() && it.word().skips() && it.own().isEmpty();
    }
  },
  ROWS_OF_ONE(
      Set.of("postgresql"),
      "A list that names one row twice is taken for equalities, which carry to other tables.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin()
          && it.query().conditions().stream()
              .anyMatch(condition -> condition.sql().matches(".* in \\((\\(.*\\)), \\1\\)"));
    }
  },
  NULL_SAFE_ELSEWHERE(
      Set.of("mariadb"),
      "A column of another table that <=> compares with a value is fixed; the analysis drops such a"
          + " term for = only.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && it.isJoin()
          && it.query().conditions().stream().anyMatch(one -> one.sql().contains(" <=> "));
    }
  },
  NULL_SAFE_ORDER(
      Set.of("sqlite", "mariadb"),
      "IS with a value bounds the scan like an equality; whether an order takes the column for"
          + " fixed depends on where it stands. The analysis does not count on it.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && !it.conditions(sql -> sql.contains(" is ") || sql.contains(" <=> ")).isEmpty();
    }
  },
  KNOWN_FROM_PREDICATE(
      Set.of("sqlite"),
      "A value that the predicate of a partial index fixes need not be read for an order either.") {
    @Override
    public boolean explains(Case it) {
      return it.what().equals("covering")
          && it.word().covering().orElse(false)
          && it.index().predicate().filter(text -> text.contains(" = ")).isPresent();
    }
  },
  VALUE_OR_NULL_IN_LOOKUP(
      Set.of("mariadb"),
      "A look-up with values of another table also takes a value or NULL (ref_or_null); the"
          + " analysis counts on equalities there only.") {
    @Override
    public boolean explains(Case it) {
      return it.seeksFurther()
          && it.isJoin()
          && it.word().plan().contains("ref_or_null")
          && !it.conditions(sql -> sql.contains("." + it.next() + " is null or ")).isEmpty();
    }
  },
  TRUTH_TEST_LAST(
      Set.of("derby"),
      "A boolean column tested by itself seeks, and has one value in an order, only where it stands"
          + " last behind WHERE (probed); the analysis never counts on it.") {
    @Override
    public boolean explains(Case it) {
      return (it.isOrder(true) && isLast("\\w+\\.\\w+", it))
          || (it.seeksFurther() && isLast(it.table().name() + "\\." + it.next(), it));
    }

    private boolean isLast(String column, Case it) {
      return Pattern.compile(
              "(where|and|on) " + column + "(\\)| [a-z]+ (by|join|first) | (where|offset) |$)")
          .matcher(it.query().sql())
          .find();
    }
  },
  PUSHED_INTO_DERIVED(
      Set.of("h2"),
      "What is asked of the rows of a derived table, values of a subquery and the first column of a"
          + " row included, is handed to it as a parameter; the analysis hands less inside.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.query().from().contains("(select * from " + it.table().name() + TestQuery.MARK)
          && it.word().plan().contains("?1")
          && it.planner().size() > it.own().size();
    }
  },
  CARRIED_BY_NEIGHBOURS(
      Set.of("h2"),
      "Two equalities that meet in the order of evaluation bring a third one; the analysis counts"
          + " on that only where they are all that is asked.") {
    @Override
    public boolean explains(Case it) {
      return it.seeksFurther() && it.isPaired(it.next());
    }
  },
  JOIN_ELIMINATED(
      Set.of("mariadb"),
      "An outer join by a unique key of which nothing is read is left out, and what is said of"
          + " joins no longer holds.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true) && it.query().from().contains(" left join ");
    }
  },
  EQUAL_ENDS(Set.of("mariadb"), "A range between a value and the same value is an equality.") {
    @Override
    public boolean explains(Case it) {
      return (it.isOrder(true) && it.hasEqualEnds(column -> true))
          || (it.seeksFurther() && it.hasEqualEnds(it.next()::equals));
    }
  },
  COLUMNS_EQUAL(
      Set.of("postgresql", "mariadb"),
      "Columns of one table that equal each other stand for each other in an order.") {
    @Override
    public boolean explains(Case it) {
      String own = it.table().name() + "\\.\\w+";
      return it.isOrder(true) && !it.conditions(sql -> sql.matches(own + " = " + own)).isEmpty();
    }
  },
  CONSTANT_ABOVE_JOIN(
      Set.of("derby"),
      "Where an outer join is joined further, conditions of WHERE are tested on the joined rows"
          + " only; a column that one of them fixes is dropped from the order all the same.") {
    @Override
    public boolean explains(Case it) {
      return it.isOrder(true)
          && it.query().from().matches(".* left join .* inner join .*")
          && !it.conditions(sql -> sql.contains(" = ")).isEmpty();
    }
  },
  LIST_OF_OTHER_TYPE(
      Set.of("derby"),
      "Values of another type than the column's under OR, such as texts for a day, cannot be"
          + " sorted in advance; the scan reads from the least to the greatest of them, in any"
          + " position of the key.") {
    @Override
    public boolean explains(Case it) {
      return it.isMatching()
          && it.planner().size() > it.own().size()
          && it.startsAlike(it.own().size())
          && it.table().column(it.planner().get(it.own().size())).kind() == ValueKind.DAY
          && !it.conditions(sql -> sql.contains(" = '20") && sql.contains(" or ")).isEmpty();
    }
  },
  OUTER_JOIN_BY_EXISTS(
      Set.of("postgresql", "mariadb"),
      "An equality with the outer query inside EXISTS rejects rows of NULLs, so that an outer join"
          + " becomes an inner one; the analysis keeps it.") {
    @Override
    public boolean explains(Case it) {
      return it.query().from().contains(" left join ") && it.query().from().contains("exists (");
    }
  },
  EXPRESSION_FIXED_ELSEWHERE(
      Set.of("postgresql"),
      "An expression over another table that equals a value orders nothing; the analysis drops"
          + " columns of other tables only.") {
    @Override
    public boolean explains(Case it) {
      return it.isJoin() && it.isOrder(true) && it.query().rest().contains("(");
    }
  };

  private final Set<String> databases;
  private final String explanation;

  Underclaim(Set<String> databases, String explanation) {
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
