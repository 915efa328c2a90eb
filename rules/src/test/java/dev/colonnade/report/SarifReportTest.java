package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import dev.colonnade.finding.Severity;
import java.util.List;
import org.junit.jupiter.api.Test;

class SarifReportTest {
  @Test
  void a_log_is_valid_against_the_schema() {
    assertThat(SarifSchema.errors(SarifReport.write(ReportFixture.report()))).isEmpty();
    assertThat(SarifSchema.errors(SarifReport.write(ReportFixture.empty()))).isEmpty();
  }

  @Test
  void the_schema_refuses_what_is_broken() {
    JsonNode log = SarifSchema.parse(SarifReport.write(ReportFixture.report()));
    ObjectNode result = (ObjectNode) log.at("/runs/0/results/0");
    result.put("level", "fatal");
    ObjectNode region =
        (ObjectNode) log.at("/runs/0/results/1/locations/0/physicalLocation/region");
    region.put("startLine", 0);
    ((ObjectNode) log.at("/runs/0/tool/driver/rules/0")).remove("id");
    assertThat(SarifSchema.errors(log))
        .hasSize(3)
        .anyMatch(error -> error.contains("level"))
        .anyMatch(error -> error.contains("startLine"))
        .anyMatch(error -> error.contains("id"));
  }

  @Test
  void what_was_not_understood_is_a_notification_with_its_place() {
    JsonNode log = SarifSchema.parse(SarifReport.write(ReportFixture.report()));
    JsonNode invocation = log.at("/runs/0/invocations/0");
    assertThat(invocation.path("executionSuccessful").asBoolean()).isTrue();
    JsonNode notifications = invocation.path("toolExecutionNotifications");
    assertThat(notifications)
        .extracting(
            it ->
                it.at("/descriptor/id").asText()
                    + " "
                    + it.at("/locations/0/physicalLocation/artifactLocation/uri").asText()
                    + ":"
                    + it.at("/locations/0/physicalLocation/region/startLine").asInt()
                    + " "
                    + it.at("/message/text").asText())
        .containsExactly(
            "change-not-understood src/main/resources/db/harbour.xml:24 change set 2::quay: change"
                + " type moorLoad is not known",
            "query-not-analysed queries/tide.sql:7 SQL does not parse: `select" + " * frm tide`",
            "input-not-understood harbour-1.0.jar!/db/a%20b%23%C3%BC.xml:3 not <read> | in Süderhafen");
    assertThat(log.at("/runs/0/tool/driver/notifications"))
        .extracting(it -> it.path("id").asText())
        .containsExactly("change-not-understood", "query-not-analysed", "input-not-understood");
  }

  @Test
  void a_rule_that_is_off_by_default_is_disabled() {
    Report report =
        new Report(
            ReportFixture.dialect(),
            ReportFixture.report().schema(),
            List.of(),
            List.of(),
            List.of(new RuleDescription("wide-index", "an index is wide", "", Severity.OFF)),
            ReportFixture.gaps());
    String text = SarifReport.write(report);
    assertThat(SarifSchema.errors(text)).isEmpty();
    JsonNode rule = SarifSchema.parse(text).at("/runs/0/tool/driver/rules/0");
    assertThat(rule.at("/defaultConfiguration/enabled").asBoolean(true)).isFalse();
    assertThat(rule.at("/fullDescription/text").asText()).isEqualTo("an index is wide");
  }

  @Test
  void full_descriptions_are_the_first_prose_cut_between_words() {
    JsonNode rules =
        SarifSchema.parse(SarifReport.write(ReportFixture.report()))
            .at("/runs/0/tool/driver/rules");
    assertThat(rules.at("/0/fullDescription/text").asText()).endsWith("word ...").hasSize(1023);
    assertThat(rules.at("/1/fullDescription/text").asText()).isEqualTo("Every write keeps both.");
  }
}
