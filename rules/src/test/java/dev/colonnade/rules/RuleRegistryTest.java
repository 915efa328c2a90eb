package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleSettings;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class RuleRegistryTest {
  private static final Scene REPEATED =
      Scene.EMPTY.ddl(
          """
          create table berth (id bigint not null, name varchar(40), primary key (id));
          create index ix_berth_name on berth (name);
          create index ix_berth_name_again on berth (name);
          """);

  @Test
  void rules_are_sorted_and_well_formed() {
    List<RuleMetadata> rules = RuleRegistry.metadata();
    assertThat(rules).extracting(RuleMetadata::id).isSorted().doesNotHaveDuplicates();
    assertThat(rules).allSatisfy(rule -> assertThat(rule.problems()).isEmpty());
  }

  @Test
  void only_what_follows_from_definitions_is_an_error_by_default() {
    assertThat(RuleRegistry.metadata())
        .filteredOn(rule -> rule.severity() == Severity.ERROR)
        .extracting(RuleMetadata::id)
        .containsExactly("duplicate-index", "redundant-index");
  }

  @Test
  void a_severity_is_configured_by_rule() {
    Scene scene =
        REPEATED.with(RuleSettings.DEFAULT.withSeverity("duplicate-index", Severity.NOTE));
    assertThat(RuleRegistry.check(scene.context()))
        .extracting(Finding::severity)
        .containsExactly(Severity.NOTE);
  }

  @Test
  void a_rule_that_is_off_says_nothing() {
    Scene scene = REPEATED.with(RuleSettings.DEFAULT.withSeverity("duplicate-index", Severity.OFF));
    assertThat(RuleRegistry.check(scene.context())).isEmpty();
  }

  @Test
  void settings_for_what_does_not_exist_are_named() {
    RuleSettings settings =
        new RuleSettings(
            Map.of("duplicate-indexes", Severity.OFF),
            Map.of("covering", Map.of("maximumColumns", "few", "width", "3")));
    assertThat(settings.problems(RuleRegistry.metadata()))
        .hasSize(3)
        .anyMatch(line -> line.startsWith("there is no rule 'duplicate-indexes'; there are: "))
        .contains(
            "option 'maximumColumns' of rule 'covering' is no number: few",
            "rule 'covering' has no option 'width'");
  }

  @Test
  void the_order_of_statements_does_not_show() {
    String one = "select id from booking where vessel_id = ?";
    String other = "select id from booking where berth_id = ?";
    Scene scene =
        Scene.EMPTY.ddl(
            "create table booking (id bigint not null, vessel_id bigint, berth_id bigint,"
                + " note varchar(200), primary key (id));");
    List<String> there =
        RuleRegistry.check(scene.queries(one + ";" + other).context()).stream()
            .map(finding -> finding.fingerprint().value())
            .sorted()
            .toList();
    List<String> back =
        RuleRegistry.check(scene.queries(other + ";" + one).context()).stream()
            .map(finding -> finding.fingerprint().value())
            .sorted()
            .toList();
    assertThat(there).isNotEmpty().isEqualTo(back);
  }
}
