package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/**
 * What SARIF 2.1.0 and the code hosts that read it ask for, row by row. Sources: the OASIS standard
 * and its schema; for the rows that speak of a host, the documentation page "SARIF support for code
 * scanning".
 */
class SarifCheckRowsTest {
  private final JsonNode log = SarifSchema.parse(SarifReport.write(ReportFixture.report()));

  private JsonNode run() {
    return log.path("runs").path(0);
  }

  private List<JsonNode> results() {
    return list(run().path("results"));
  }

  private static List<JsonNode> list(JsonNode array) {
    List<JsonNode> items = new ArrayList<>();
    array.forEach(items::add);
    return items;
  }

  private static List<String> texts(JsonNode array) {
    return list(array).stream().map(JsonNode::asText).toList();
  }

  private List<JsonNode> artifactLocations() {
    return log.findValues("artifactLocation");
  }

  /** The log without one property must be refused: the check itself can fail. */
  private void assertRequired(String pointer, String property) {
    JsonNode broken = log.deepCopy();
    assertThat(SarifSchema.errors(broken)).isEmpty();
    ObjectNode owner = (ObjectNode) broken.at(pointer);
    assertThat(owner.has(property)).as("%s has %s", pointer, property).isTrue();
    owner.remove(property);
    assertThat(SarifSchema.errors(broken)).as("without %s", property).isNotEmpty();
  }

  @Test
  @DisplayName("SA-01 log: version and runs are required, $schema expected")
  void sa01() {
    assertThat(log.path("version").asText()).isEqualTo("2.1.0");
    assertThat(log.path("$schema").asText()).endsWith("/sarif-schema-2.1.0.json");
    assertRequired("", "version");
    assertRequired("", "runs");
  }

  @Test
  @DisplayName("SA-02 tool, driver and its name are required")
  void sa02() {
    assertThat(run().at("/tool/driver/name").asText()).isEqualTo("Colonnade");
    assertRequired("/runs/0", "tool");
    assertRequired("/runs/0/tool", "driver");
    assertRequired("/runs/0/tool/driver", "name");
  }

  @Test
  @DisplayName("SA-03 rule: id, short and full description, help")
  void sa03() {
    assertRequired("/runs/0/tool/driver/rules/0", "id");
    List<JsonNode> rules = list(run().at("/tool/driver/rules"));
    assertThat(rules).hasSize(2);
    for (JsonNode rule : rules) {
      assertThat(rule.at("/shortDescription/text").asText()).isNotBlank();
      assertThat(rule.at("/fullDescription/text").asText()).isNotBlank().hasSizeLessThan(1025);
      assertThat(rule.at("/help/text").asText()).isNotBlank();
    }
  }

  @Test
  @DisplayName("SA-04 result: message is required, its first sentence is the title")
  void sa04() {
    assertRequired("/runs/0/results/0", "message");
    assertThat(results().get(0).at("/message/text").asText())
        .startsWith("no index has a leading column that this query binds.\n");
  }

  @Test
  @DisplayName("SA-05 result: ruleId, and ruleIndex that points at the same rule")
  void sa05() {
    assertThat(results())
        .allSatisfy(
            result ->
                assertThat(
                        run()
                            .at("/tool/driver/rules")
                            .path(result.path("ruleIndex").asInt(-1))
                            .path("id"))
                    .isEqualTo(result.path("ruleId")));
    assertThat(SarifSchema.definition("result").at("/properties/ruleIndex/default").asInt())
        .isEqualTo(-1);
  }

  @Test
  @DisplayName("SA-06 level: none, note, warning, error; default warning")
  void sa06() {
    JsonNode level = SarifSchema.definition("result").at("/properties/level");
    assertThat(texts(level.path("enum"))).containsExactly("none", "note", "warning", "error");
    assertThat(level.path("default").asText()).isEqualTo("warning");
    assertThat(texts(level.path("enum")))
        .contains(Severity.ERROR.word(), Severity.WARNING.word(), Severity.NOTE.word());
    assertThat(results())
        .extracting(result -> result.path("level").asText())
        .containsExactly("warning", "error");
  }

  @Test
  @DisplayName("SA-07 kind: left out, which means fail, the only one that allows a level")
  void sa07() {
    assertThat(SarifSchema.definition("result").at("/properties/kind/default").asText())
        .isEqualTo("fail");
    assertThat(results()).noneMatch(result -> result.has("kind"));
  }

  @Test
  @DisplayName("SA-08 physicalLocation: needs artifactLocation or address")
  void sa08() {
    assertRequired("/runs/0/results/0/locations/0/physicalLocation", "artifactLocation");
  }

  @Test
  @DisplayName("SA-09 artifactLocation: a relative uri carries uriBaseId, an absolute one does not")
  void sa09() {
    assertThat(artifactLocations())
        .hasSize(5)
        .allSatisfy(
            location -> {
              assertThat(location.path("uri").asText()).doesNotContain("://");
              assertThat(location.has("uriBaseId")).isTrue();
            });
    JsonNode absolute = ArtifactUri.of("/quay/db/harbour.xml");
    assertThat(absolute.path("uri").asText()).isEqualTo("file:///quay/db/harbour.xml");
    assertThat(absolute.has("uriBaseId")).isFalse();
    assertThat(ArtifactUri.of("C:/quay/db.xml").path("uri").asText())
        .isEqualTo("file:///C:/quay/db.xml");
  }

  @Test
  @DisplayName(
      "SA-10 originalUriBaseIds: every base that is used is declared, none with a machine's path")
  void sa10() {
    JsonNode bases = run().path("originalUriBaseIds");
    assertThat(artifactLocations())
        .allSatisfy(
            location -> assertThat(bases.has(location.path("uriBaseId").asText())).isTrue());
    assertThat(list(bases))
        .allSatisfy(
            base -> {
              assertThat(base.has("uri")).isFalse();
              assertThat(base.at("/description/text").asText()).isNotBlank();
            });
  }

  @Test
  @DisplayName("SA-11 relative uri: below the root, valid, the same each run")
  void sa11() {
    assertThat(artifactLocations())
        .extracting(location -> location.path("uri").asText())
        .containsExactlyInAnyOrder(
            "src/main/resources/db/harbour.xml",
            "queries/tide.sql",
            "harbour-1.0.jar!/db/a%20b%23%C3%BC.xml",
            "src/main/java/harbour/Bookings.java",
            "src/main/resources/db/harbour.xml");
    assertThat(ArtifactUri.of("tide:1.sql").path("uri").asText()).isEqualTo("tide%3A1.sql");
  }

  @Test
  @DisplayName(
      "SA-12 region: starts with line and column; the end is unknown, hence the line's end")
  void sa12() {
    JsonNode region = results().get(0).at("/locations/0/physicalLocation/region");
    assertThat(region.path("startLine").asInt()).isEqualTo(31);
    assertThat(region.path("startColumn").asInt()).isEqualTo(5);
    assertThat(log.findValues("region"))
        .hasSize(5)
        .allSatisfy(
            each -> {
              assertThat(each.path("startLine").asInt()).isPositive();
              assertThat(each.path("startColumn").asInt()).isPositive();
              assertThat(each.has("endColumn")).isFalse();
            });
  }

  @Test
  @DisplayName("SA-13 partialFingerprints: strings under versioned names")
  void sa13() {
    for (JsonNode result : results()) {
      JsonNode fingerprints = result.path("partialFingerprints");
      assertThat(fingerprints.fieldNames()).toIterable().allMatch(name -> name.matches(".+/v\\d+"));
      assertThat(list(fingerprints)).isNotEmpty().allMatch(JsonNode::isTextual);
    }
  }

  @Test
  @DisplayName("SA-14 baselineState: left out, as nothing is compared")
  void sa14() {
    assertThat(texts(SarifSchema.definition("result").at("/properties/baselineState/enum")))
        .containsExactly("new", "unchanged", "updated", "absent");
    assertThat(results()).noneMatch(result -> result.has("baselineState"));
  }

  @Test
  @DisplayName("SA-15 suppressions: absent means no information; entries need a kind")
  void sa15() {
    assertThat(results()).noneMatch(result -> result.has("suppressions"));
    JsonNode suppression = SarifSchema.definition("suppression");
    assertThat(texts(suppression.path("required"))).containsExactly("kind");
    assertThat(texts(suppression.at("/properties/kind/enum")))
        .containsExactly("inSource", "external");
    assertThat(texts(suppression.at("/properties/status/enum")))
        .containsExactly("accepted", "underReview", "rejected");
  }

  @Test
  @DisplayName("SA-16 host limits: one location a result, 5000 findings far below 10 MB compressed")
  void sa16() throws IOException {
    assertThat(results()).allMatch(result -> result.path("locations").size() == 1);
    List<Finding> many = IntStream.range(0, 5000).mapToObj(ReportFixture::warning).toList();
    ByteArrayOutputStream compressed = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(compressed)) {
      gzip.write(SarifReport.write(ReportFixture.report(many)).getBytes(StandardCharsets.UTF_8));
    }
    assertThat(compressed.size()).isLessThan(10_000_000);
  }
}
