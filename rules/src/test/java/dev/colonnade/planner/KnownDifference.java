package dev.colonnade.planner;

import dev.colonnade.access.Bound;
import dev.colonnade.planner.Prediction.OurWord;
import dev.colonnade.planner.TestQuery.TestCondition;
import dev.colonnade.planner.TestTable.TestIndex;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Named ways in which a plan says something else than the analysis, by what they say of the
 * analysis. Each was named from what a run showed, so a new one is a finding.
 */
sealed interface KnownDifference permits Overclaim, Underclaim, PlannerChoice, PlanWording {
  /** By kind, overclaims first, then as listed. */
  Comparator<KnownDifference> ORDER =
      Comparator.<KnownDifference>comparingInt(it -> all().toList().indexOf(it));

  /** The name of the fact. */
  String name();

  /** The databases that it is known of. */
  Set<String> databases();

  /** The fact in a sentence. */
  String explanation();

  /** True where the fact explains the difference. */
  boolean explains(Case it);

  /** What the fact says of the analysis, in a few words. */
  default String kind() {
    if (this instanceof Overclaim) {
      return "We claim more than the planner does";
    }
    if (this instanceof Underclaim) {
      return "The planner does more than we claim";
    }
    return this instanceof PlannerChoice
        ? "The planner could, and takes another way"
        : "The plan says it otherwise";
  }

  private static Stream<KnownDifference> all() {
    return Stream.<KnownDifference[]>of(
            Overclaim.values(), Underclaim.values(), PlannerChoice.values(), PlanWording.values())
        .flatMap(Stream::of);
  }

  /** The fact that explains a difference, if one does; one that speaks against us goes first. */
  static Optional<KnownDifference> of(Case difference) {
    return all()
        .filter(it -> it.databases().contains(difference.database()))
        .filter(it -> it.explains(difference))
        .findFirst();
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
    private static final Pattern EQUAL_ENDS =
        Pattern.compile(".* between (.+) and \\1|.* >= (.+) and .* <= \\2");

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
              .map(Bound::kind)
              .anyMatch(kind -> !kind.isPoint());
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

    /** The first column of the key that the planner seeks on and the analysis does not. */
    String next() {
      return planner().get(own().size());
    }

    /** True where the planner seeks on more columns than the analysis says, which it repeats. */
    boolean seeksFurther() {
      return isMatching() && planner().size() > own().size() && startsAlike(own().size());
    }

    /** True for a column that is compared for equality with one of another table, or of its own. */
    boolean isPaired(String column) {
      String name = table.name() + "." + column;
      return query.from().contains(name + " in (select ")
          || query.from().matches(".* in \\(select " + Pattern.quote(name) + " from .*")
          || query.conditions().stream()
              .map(TestCondition::sql)
              .filter(it -> it.matches("\\w+\\.\\w+ = \\w+\\.\\w+"))
              .anyMatch(it -> List.of(it.split(" = ", 2)).contains(name));
    }

    /** True where such a column lies between a value and the same value. */
    boolean hasEqualEnds(java.util.function.Predicate<String> column) {
      return conditions(sql -> EQUAL_ENDS.matcher(sql).matches()).stream()
          .anyMatch(condition -> condition.columns().stream().anyMatch(column));
    }

    List<TestCondition> conditions(java.util.function.Predicate<String> test) {
      return query.conditions().stream()
          .filter(it -> it.sql().contains(table.name() + "."))
          .filter(it -> test.test(it.sql()))
          .toList();
    }
  }
}
