package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.statistics.Confidence;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Which of several indexes of nearly the same cost is taken. */
class FewestPagesTest {
  private static final Comparator<Candidate> BY_COST = Comparator.comparingDouble(Candidate::cost);

  private static Candidate way(String name, double cost, double pages) {
    return way(name, AccessPath.RANGE_SCAN, cost, pages, Optional.empty());
  }

  private static Candidate way(
      String name, AccessPath path, double cost, double pages, Optional<Boolean> ordered) {
    Index index =
        Index.of(
            name,
            "berth",
            false,
            List.of(KeyColumn.ascending("pier")),
            SourceLocation.of("changelog.xml"));
    return new Candidate(
        Optional.of(index),
        path,
        List.of(new ColumnRef(ColumnRef.SELF, Identifier.of("pier"))),
        List.of(),
        List.of(),
        false,
        List.of(),
        ordered,
        Optional.empty(),
        "",
        new AccessEstimate(100, 2, pages - 2, 10, Confidence.DERIVED),
        cost);
  }

  private static String taken(Candidate cheapest, Candidate... others) {
    List<Candidate> all = new ArrayList<>(List.of(others));
    all.add(cheapest);
    return FewestPages.among(all, cheapest, BY_COST)
        .index()
        .map(index -> index.name().text())
        .orElse("none");
  }

  @Test
  void fewer_pages_for_nearly_the_same_cost_are_preferred() {
    assertThat(taken(way("cheap", 100, 50), way("few", 129, 20))).isEqualTo("few");
    assertThat(taken(way("cheap", 100, 50), way("few", 131, 20))).isEqualTo("cheap");
    assertThat(taken(way("cheap", 100, 20), way("many", 101, 50))).isEqualTo("cheap");
  }

  @Test
  void the_cheaper_of_two_that_read_as_many_pages_is_taken() {
    assertThat(taken(way("cheap", 100, 20), way("dear", 101, 20))).isEqualTo("cheap");
  }

  @Test
  void an_order_is_not_given_up_for_fewer_pages() {
    Candidate ordered = way("ordered", AccessPath.RANGE_SCAN, 100, 50, Optional.of(true));
    Candidate sorted = way("sorted", AccessPath.RANGE_SCAN, 105, 20, Optional.of(false));
    assertThat(taken(ordered, sorted)).isEqualTo("ordered");
  }

  @Test
  void a_scan_of_the_index_alone_and_a_lookup_stay() {
    for (AccessPath path :
        List.of(
            AccessPath.INDEX_ONLY_RANGE_SCAN,
            AccessPath.UNIQUE_LOOKUP,
            AccessPath.FULL_INDEX_SCAN)) {
      Candidate cheapest = way("cheap", path, 100, 50, Optional.empty());
      assertThat(taken(cheapest, way("few", 101, 20))).as(path.name()).isEqualTo("cheap");
    }
  }

  @Test
  void the_other_kind_of_scan_is_no_rival() {
    Candidate whole = way("whole", AccessPath.FULL_INDEX_SCAN, 101, 20, Optional.empty());
    assertThat(taken(way("cheap", 100, 50), whole)).isEqualTo("cheap");
  }
}
