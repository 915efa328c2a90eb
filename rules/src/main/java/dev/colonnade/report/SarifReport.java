package dev.colonnade.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import dev.colonnade.finding.Evidence;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Fingerprint;
import dev.colonnade.finding.Severity;
import dev.colonnade.finding.Suggestion;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Writes {@code findings.sarif}: SARIF 2.1.0 (OASIS standard with errata 01).
 *
 * <p>No result carries {@code suppressions}: without accepted findings there is nothing to say, and
 * an empty array would claim that somebody looked.
 */
final class SarifReport {
  private static final String SCHEMA =
      "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

  /** Longest full description that code hosts take. */
  private static final int LONGEST_DESCRIPTION = 1024;

  private final Report report;
  private final List<String> ruleIds;

  private SarifReport(Report report) {
    this.report = report;
    this.ruleIds = report.rules().stream().map(RuleDescription::id).toList();
  }

  static String write(Report report) {
    return JsonText.write(new SarifReport(report).log());
  }

  private JsonNode log() {
    ObjectNode run = JsonText.object();
    run.set("tool", JsonText.object().set("driver", driver()));
    run.set("invocations", JsonText.array(List.of(report.coverage()), SarifReport::invocation));
    run.set("originalUriBaseIds", ArtifactUri.bases());
    run.put("columnKind", "utf16CodeUnits");
    run.set("results", JsonText.array(report.findings(), this::result));
    ObjectNode log = JsonText.object();
    log.put("$schema", SCHEMA);
    log.put("version", "2.1.0");
    log.set("runs", JsonText.array(List.of(run), each -> each));
    return log;
  }

  private ObjectNode driver() {
    ObjectNode driver = JsonText.object();
    driver.put("name", "Colonnade");
    driver.set(
        "shortDescription", message("Says which index serves which query, without a database"));
    driver.set("rules", JsonText.array(report.rules(), SarifReport::rule));
    driver.set(
        "notifications", JsonText.array(List.of(Gap.Kind.values()), SarifReport::notificationKind));
    return driver;
  }

  private static JsonNode rule(RuleDescription rule) {
    ObjectNode node = JsonText.object();
    node.put("id", rule.id());
    node.set("shortDescription", message(rule.summary()));
    node.set("fullDescription", message(shortened(firstParagraph(rule))));
    ObjectNode help = message(rule.explanation());
    node.set("help", help.put("markdown", rule.explanation()));
    ObjectNode configuration = JsonText.object();
    if (rule.severity() == Severity.OFF) {
      configuration.put("enabled", false);
    } else {
      configuration.put("level", rule.severity().word());
    }
    node.set("defaultConfiguration", configuration);
    return node;
  }

  /** The first paragraph of prose; the summary where there is none. */
  private static String firstParagraph(RuleDescription rule) {
    return Stream.of(rule.explanation().split("\\R\\s*\\R"))
        .map(String::strip)
        .filter(paragraph -> !paragraph.isEmpty() && !paragraph.startsWith("#"))
        .filter(paragraph -> !paragraph.startsWith("```") && !paragraph.startsWith("|"))
        .findFirst()
        .map(paragraph -> paragraph.replaceAll("\\s+", " "))
        .orElse(rule.summary());
  }

  private static String shortened(String text) {
    if (text.length() <= LONGEST_DESCRIPTION) {
      return text;
    }
    String mark = " ...";
    int room = LONGEST_DESCRIPTION - mark.length();
    int wordEnd = text.lastIndexOf(' ', room);
    return text.substring(0, wordEnd > 0 ? wordEnd : room) + mark;
  }

  private static JsonNode notificationKind(Gap.Kind kind) {
    ObjectNode node = JsonText.object();
    node.put("id", kind.id());
    node.set("shortDescription", message(kind.meaning()));
    return node;
  }

  private static JsonNode invocation(Coverage coverage) {
    ObjectNode node = JsonText.object();
    node.put("executionSuccessful", true);
    node.set(
        "toolExecutionNotifications", JsonText.array(Gap.of(coverage), SarifReport::notification));
    return node;
  }

  private static JsonNode notification(Gap gap) {
    ObjectNode node = JsonText.object();
    node.set("descriptor", JsonText.object().put("id", gap.kind().id()));
    node.put("level", "warning");
    node.set("message", message(gap.text()));
    ObjectNode location = JsonText.object();
    location.set("physicalLocation", physicalLocation(gap.location()));
    node.set("locations", JsonText.array(List.of(location), each -> each));
    return node;
  }

  private JsonNode result(Finding finding) {
    ObjectNode node = JsonText.object();
    node.put("ruleId", finding.ruleId());
    int ruleIndex = ruleIds.indexOf(finding.ruleId());
    if (ruleIndex >= 0) {
      node.put("ruleIndex", ruleIndex);
    }
    node.put("level", finding.severity().word());
    node.set("message", message(text(finding)));
    ObjectNode location = JsonText.object();
    location.set("physicalLocation", physicalLocation(finding.location()));
    location.set("logicalLocations", logicalLocations(finding));
    node.set("locations", JsonText.array(List.of(location), each -> each));
    node.set(
        "partialFingerprints",
        JsonText.object().put(Fingerprint.NAME, finding.fingerprint().value()));
    node.set("properties", properties(finding));
    return node;
  }

  /** The title as a sentence of its own, then the evidence: hosts show the first sentence. */
  private static String text(Finding finding) {
    return Stream.concat(
            Stream.of(finding.title() + "."), finding.evidence().stream().map(Evidence::render))
        .collect(Collectors.joining("\n"));
  }

  private static JsonNode properties(Finding finding) {
    ObjectNode node = JsonText.object();
    node.put("restsOnAssumption", finding.restsOnAssumption());
    node.set("suggestions", JsonText.texts(finding.suggestions(), Suggestion::render));
    return node;
  }

  private static JsonNode logicalLocations(Finding finding) {
    List<JsonNode> locations = new ArrayList<>();
    finding
        .queryId()
        .ifPresent(
            id ->
                locations.add(
                    JsonText.object().put("fullyQualifiedName", id).put("kind", "query")));
    finding
        .location()
        .changeSet()
        .ifPresent(
            id ->
                locations.add(
                    JsonText.object().put("fullyQualifiedName", id).put("kind", "changeSet")));
    locations.add(
        JsonText.object().put("fullyQualifiedName", finding.table().text()).put("kind", "table"));
    return JsonText.array(locations, each -> each);
  }

  /**
   * The place. The end of the region is not known, so it is left out: SARIF then takes it to reach
   * to the end of the line.
   */
  private static JsonNode physicalLocation(SourceLocation location) {
    ObjectNode node = JsonText.object();
    node.set("artifactLocation", ArtifactUri.of(location.file()));
    ObjectNode region = JsonText.object();
    region.put("startLine", location.line());
    region.put("startColumn", location.column());
    node.set("region", region);
    return node;
  }

  private static ObjectNode message(String text) {
    return JsonText.object().put("text", text);
  }
}
