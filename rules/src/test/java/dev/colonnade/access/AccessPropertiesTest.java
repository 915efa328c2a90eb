package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** What must hold of every query, checked on many made from a seed. */
class AccessPropertiesTest {
  private static final long SEED = 4_711;
  private static final int QUERIES = 1_000;

  private interface Property {
    void check(RandomQuery made, Dialect dialect, Random random, String context);
  }

  private static void forAll(Property property) {
    Random random = new Random(SEED);
    for (int i = 0; i < QUERIES; i++) {
      RandomQuery made = RandomQuery.from(random);
      Dialect dialect = Dialects.all().get(i % Dialects.all().size());
      property.check(
          made, dialect, random, "seed " + SEED + ", query " + i + ", " + dialect + ": " + made);
    }
  }

  private static TableAccess analyze(RandomQuery made, Dialect dialect) {
    return new AccessPathAnalyzer(made.schema(), dialect, Statistics.NONE)
        .analyze(made.query())
        .tables()
        .get(0);
  }

  @Test
  void order_of_conjuncts_and_sides_of_comparisons_do_not_matter() {
    forAll(
        (made, dialect, random, context) -> {
          List<Predicate> shuffled = new ArrayList<>();
          for (Predicate condition : made.conjuncts()) {
            shuffled.add(
                condition instanceof Comparison comparison ? comparison.flipped() : condition);
          }
          Collections.shuffle(shuffled, random);
          TableAccess before = analyze(made, dialect);
          TableAccess after = analyze(made.withConjuncts(shuffled), dialect);
          assertThat(after.candidates()).as(context).isEqualTo(before.candidates());
          assertThat(after.chosen()).as(context).isEqualTo(before.chosen());
        });
  }

  @Test
  void matching_columns_are_a_prefix_that_ends_with_the_first_range() {
    forAll(
        (made, dialect, random, context) -> {
          TableAccess access = analyze(made, dialect);
          for (Candidate candidate : access.candidates()) {
            List<KeyColumn> key = candidate.index().orElseThrow().keyColumns();
            List<Expression> matching = candidate.matching();
            for (int i = 0; i < matching.size(); i++) {
              assertThat(matching.get(i)).as(context).isEqualTo(key.get(i).value());
              boolean point = access.demand().boundsOn(matching.get(i)).get(0).kind().isPoint();
              assertThat(point || i == matching.size() - 1).as(context).isTrue();
            }
          }
        });
  }

  @Test
  void a_column_inside_a_function_never_matches() {
    forAll(
        (made, dialect, random, context) -> {
          List<Predicate> wrapped = new ArrayList<>();
          for (Predicate condition : made.conjuncts()) {
            wrapped.add(
                condition instanceof Comparison comparison
                    ? new Comparison(
                        new Call("abs", List.of(comparison.left()), true),
                        comparison.operator(),
                        comparison.right())
                    : condition);
          }
          for (Candidate candidate : analyze(made.withConjuncts(wrapped), dialect).candidates()) {
            for (Expression value : candidate.matching()) {
              assertThat(
                      made.conjuncts().stream()
                          .filter(condition -> !(condition instanceof Comparison))
                          .flatMap(condition -> condition.columns().stream())
                          .map(ColumnRef::column))
                  .as(context)
                  .contains(((ColumnRef) value).column());
            }
          }
        });
  }

  @Test
  void one_more_index_never_makes_reading_dearer() {
    forAll(
        (made, dialect, random, context) -> {
          List<Index> more = new ArrayList<>(made.table().indexes());
          more.add(RandomQuery.index("added", random));
          TableAccess before = analyze(made, dialect);
          TableAccess after = analyze(made.withTable(made.table().withIndexes(more)), dialect);
          // Where numbers are assumed only, a bounded scan is taken before one that reads all and
          // spares nothing by it.
          boolean bound =
              before.chosen().matching().isEmpty()
                  && !before.chosen().covering()
                  && !before.chosen().orderServed().orElse(false)
                  && !(after.chosen().matching().isEmpty() && after.branches().isEmpty());
          assertThat(bound || after.chosen().cost() <= before.chosen().cost()).as(context).isTrue();
          assertThat(after.candidates()).as(context).containsAll(before.candidates());
        });
  }

  @Test
  void one_more_included_column_never_loses_covering() {
    forAll(
        (made, dialect, random, context) -> {
          Identifier extra = Identifier.of(List.of("a", "b", "c", "d").get(random.nextInt(4)));
          Table wider =
              made.table()
                  .withIndexes(
                      made.table().indexes().stream()
                          .map(index -> index.withIncluded(List.of(extra)))
                          .toList());
          List<Candidate> before = analyze(made, dialect).candidates();
          List<Candidate> after = analyze(made.withTable(wider), dialect).candidates();
          for (int i = 0; i < before.size(); i++) {
            assertThat(after.get(i).covering() || !before.get(i).covering()).as(context).isTrue();
            assertThat(after.get(i).matching()).as(context).isEqualTo(before.get(i).matching());
          }
        });
  }
}
