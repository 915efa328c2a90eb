package dev.colonnade.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.finding.Evidence.Label;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class FindingTest {
  private static final Identifier BERTH = Identifier.of("berth");
  private static final Fingerprint FINGERPRINT =
      Fingerprint.ofIndex("wide-index", Identifier.of("ix_berth"), BERTH, List.of());

  private static Finding.Builder finding(Severity severity, String file, int line) {
    return new Finding.Builder(
        "wide-index",
        severity,
        SourceLocation.of(file, line),
        Optional.empty(),
        BERTH,
        FINGERPRINT);
  }

  @Test
  void what_rests_on_an_assumption_is_no_error() {
    assertThat(finding(Severity.ERROR, "a.sql", 1).assumed(true).build("t").severity())
        .isEqualTo(Severity.WARNING);
    assertThat(finding(Severity.ERROR, "a.sql", 1).assumed(false).build("t").severity())
        .isEqualTo(Severity.ERROR);
    assertThat(finding(Severity.NOTE, "a.sql", 1).assumed(true).build("t").severity())
        .isEqualTo(Severity.NOTE);
  }

  @Test
  void nothing_is_found_by_a_rule_that_is_off() {
    assertThatThrownBy(() -> finding(Severity.OFF, "a.sql", 1).build("t"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("wide-index");
  }

  @Test
  void evidence_stands_in_the_order_of_its_labels_whatever_the_order_of_adding() {
    Finding finding =
        finding(Severity.WARNING, "db/changes.xml", 12)
            .line(Label.CAUTION, "look  first\n twice")
            .line(Label.FIX, "one")
            .line(Label.FIX, "two")
            .line(Label.QUERY, "berth: id = ?")
            .build("too wide");
    assertThat(finding.render())
        .isEqualTo(
            """
            db/changes.xml:12: warning: [wide-index] too wide
              query   berth: id = ?
              fix     one
              fix     two
              caution look first twice""");
  }

  @Test
  void findings_are_ordered_by_place_first() {
    Finding late = finding(Severity.ERROR, "b.sql", 1).build("a");
    Finding early = finding(Severity.NOTE, "a.sql", 10).build("z");
    Finding earlier = finding(Severity.NOTE, "a.sql", 9).build("z");
    assertThat(Stream.of(late, early, earlier).sorted()).containsExactly(earlier, early, late);
  }

  @Test
  void a_severity_is_read_from_its_word() {
    assertThat(Severity.ofWord(" Warning ")).contains(Severity.WARNING);
    assertThat(Severity.ofWord("fatal")).isEmpty();
    assertThat(Severity.WARNING.isAtLeast(Severity.NOTE)).isTrue();
    assertThat(Severity.WARNING.isAtLeast(Severity.ERROR)).isFalse();
  }
}
