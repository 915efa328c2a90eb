package dev.colonnade.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import dev.colonnade.access.AccessPath;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class AccessPathsJsonTest {
  private static List<String> keys(JsonNode object) {
    List<String> keys = new ArrayList<>();
    object.fieldNames().forEachRemaining(keys::add);
    return keys;
  }

  private static JsonNode written(Report report) {
    return SarifSchema.parse(AccessPathsJson.write(report));
  }

  @Test
  void keys_stand_in_their_fixed_order() {
    JsonNode root = written(ReportFixture.report());
    assertThat(keys(root))
        .containsExactly("formatVersion", "database", "coverage", "tables", "queries");
    JsonNode table = root.at("/tables/0");
    assertThat(keys(table))
        .containsExactly("name", "columns", "primaryKey", "foreignKeys", "indexes");
    assertThat(keys(table.at("/indexes/0")))
        .containsExactly(
            "name", "unique", "keyColumns", "includedColumns", "predicate", "origin", "location");
    assertThat(keys(table.at("/indexes/0/location"))).containsExactly("file", "line", "changeSet");
    JsonNode query = root.at("/queries/0");
    assertThat(keys(query)).containsExactly("id", "location", "source", "text", "sql", "tables");
    assertThat(keys(query.at("/tables/0")))
        .containsExactly(
            "table",
            "alias",
            "block",
            "joinPosition",
            "fedBy",
            "executions",
            "path",
            "index",
            "matchingColumns",
            "screeningColumns",
            "covering",
            "missingColumns",
            "orderServed",
            "groupingServed",
            "remark",
            "estimate",
            "candidates");
    assertThat(keys(query.at("/tables/0/candidates/0")))
        .containsExactly(
            "index",
            "path",
            "matchingColumns",
            "screeningColumns",
            "covering",
            "missingColumns",
            "orderServed",
            "groupingServed",
            "remark",
            "estimate");
    assertThat(keys(query.at("/tables/0/estimate")))
        .containsExactly("entries", "indexPages", "tablePages", "rows", "confidence");
  }

  @Test
  void values_are_those_of_the_analysis() {
    JsonNode root = written(ReportFixture.report());
    assertThat(root.path("formatVersion").asInt()).isEqualTo(1);
    assertThat(root.path("database").asText()).isEqualTo("postgresql");
    assertThat(root.at("/tables/0/indexes/0/keyColumns").toString())
        .isEqualTo(
            "[{\"column\":\"berth_id\",\"descending\":false},"
                + "{\"column\":\"arrives\",\"descending\":true}]");
    JsonNode read = root.at("/queries/0/tables/0");
    assertThat(read.path("path").asText()).isEqualTo("range-scan");
    assertThat(read.path("index").asText()).isEqualTo("booking_berth_ix");
    assertThat(read.path("orderServed").isBoolean()).isTrue();
    assertThat(read.path("groupingServed").isNull()).isTrue();
    assertThat(read.path("estimate").toString())
        .isEqualTo(
            "{\"entries\":12.3,\"indexPages\":1,\"tablePages\":12.3,\"rows\":12.3,"
                + "\"confidence\":\"derived\"}");
    assertThat(read.path("candidates"))
        .extracting(it -> it.path("index").asText() + " " + it.path("path").asText())
        .containsExactly("booking_berth_ix range-scan", "booking_pk full-table-scan");
  }

  @Test
  void coverage_lists_what_was_not_understood() {
    JsonNode coverage = written(ReportFixture.report()).path("coverage");
    assertThat(coverage.path("changes").toString())
        .isEqualTo(
            "{\"total\":3,\"applied\":2,\"notUnderstood\":[{\"location\":{\"file\":"
                + "\"src/main/resources/db/harbour.xml\",\"line\":24,\"changeSet\":\"2::quay\"},"
                + "\"reason\":\"change type moorLoad is not known\"}]}");
    assertThat(coverage.at("/queries/notAnalysed/0/id").asText()).isEqualTo("queries/tide.sql:7");
    assertThat(coverage.at("/other/0/location/line").asInt()).isEqualTo(3);
  }

  @Test
  void several_indexes_that_serve_an_or_are_branches() {
    QueryAccess query = ReportFixture.query("harbour.Bookings.either");
    TableAccess read = query.tables().get(0);
    TableAccess branched =
        new TableAccess(
            read.block(),
            read.use(),
            read.table(),
            read.joinPosition(),
            read.feeding(),
            read.demand(),
            ReportFixture.candidate(Optional.empty(), AccessPath.RANGE_SCAN, 24),
            read.candidates(),
            read.candidates(),
            3.04);
    Report report =
        new Report(
            ReportFixture.dialect(),
            ReportFixture.report().schema(),
            List.of(new QueryAccess(query.query(), List.of(branched))),
            List.of(),
            List.of(),
            ReportFixture.gaps());
    JsonNode written = written(report).at("/queries/0/tables/0");
    assertThat(written.path("index").isNull()).isTrue();
    assertThat(written.path("executions").asText()).isEqualTo("3");
    assertThat(written.path("branches"))
        .extracting(it -> it.path("index").asText())
        .containsExactly("booking_berth_ix", "booking_pk");
  }

  @Test
  void an_empty_result_is_written_too() {
    assertThat(AccessPathsJson.write(ReportFixture.empty()))
        .startsWith("{\n  \"formatVersion\" : 1,\n")
        .endsWith("}\n");
  }

  @Test
  void each_candidate_stands_in_a_line_of_its_own() {
    Report report = ReportFixture.report();
    int candidates = 0;
    for (QueryAccess query : report.queries()) {
      for (TableAccess access : query.tables()) {
        candidates += access.candidates().size() + access.branches().size();
      }
    }
    List<String> rows =
        AccessPathsJson.write(report)
            .lines()
            .filter(line -> line.startsWith("        { \"index\" : "))
            .toList();
    assertThat(rows).hasSize(candidates).isNotEmpty();
    assertThat(rows).allMatch(line -> line.matches(".*\\} \\},?( ])?"));
    assertThat(AccessPathsJson.write(report)).contains("\n      \"candidates\" : [\n");
  }
}
