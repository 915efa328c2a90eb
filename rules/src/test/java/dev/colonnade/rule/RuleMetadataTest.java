package dev.colonnade.rule;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.schema.Table;
import java.util.List;
import org.junit.jupiter.api.Test;

class RuleMetadataTest {
  private static final class TideTable implements SchemaRule {
    @Override
    public RuleMetadata metadata() {
      return good().build();
    }

    @Override
    public List<Finding> check(Table table, RuleContext context) {
      return List.of();
    }
  }

  private static RuleMetadata.Builder good() {
    return RuleMetadata.rule(TideTable.class).summary("the tide is out").since("0.1");
  }

  @Test
  void the_id_follows_from_the_class() {
    assertThat(good().build().id()).isEqualTo("tide-table");
    assertThat(good().build().problems()).isEmpty();
  }

  @Test
  void each_malformation_is_named() {
    assertThat(good().summary("The tide is out.").build().problems())
        .containsExactly("summary ends with a full stop");
    assertThat(good().summary(" ").build().problems()).contains("summary is empty");
    assertThat(good().summary("x".repeat(91)).build().problems())
        .containsExactly("summary is longer than 90 characters");
    assertThat(good().since("soon").build().problems())
        .containsExactly("since is not a version: soon");
    assertThat(good().severity(Severity.OFF).build().problems())
        .containsExactly("a rule is on by default");
    assertThat(good().aliases("TideTable").build().problems())
        .containsExactly("alias is not in kebab case: TideTable");
    assertThat(good().aliases("tide-table").build().problems())
        .containsExactly("alias is the id itself: tide-table");
  }

  @Test
  void options_are_checked_too() {
    RuleOption<Long> undocumented = RuleOption.ofLong("minimumRows", 1, "");
    RuleOption<Long> badlyNamed = RuleOption.ofLong("minimum-rows", 1, "fewest rows");
    assertThat(good().options(undocumented).build().problems())
        .containsExactly("description of option minimumRows is empty");
    assertThat(good().options(badlyNamed).build().problems())
        .containsExactly("option is not in camel case: minimum-rows");
    assertThat(good().options(badlyNamed, badlyNamed).build().problems())
        .contains("two options have one name");
  }

  @Test
  void an_earlier_id_still_configures_the_rule() {
    RuleOption<Long> rows = RuleOption.ofLong("minimumRows", 1, "fewest rows");
    RuleMetadata renamed = good().aliases("ebb-table").options(rows).build();
    RuleSettings settings =
        RuleSettings.DEFAULT
            .withSeverity("ebb-table", Severity.NOTE)
            .withOption("ebb-table", "minimumRows", " 7 ");
    assertThat(settings.severity(renamed)).isEqualTo(Severity.NOTE);
    assertThat(settings.option(renamed, rows)).isEqualTo(7);
    assertThat(settings.problems(List.of(renamed))).isEmpty();
  }
}
