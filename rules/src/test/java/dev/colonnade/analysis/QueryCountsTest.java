package dev.colonnade.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.finding.Finding;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.report.Coverage;
import dev.colonnade.report.Report;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A statement with optional parts is one query, whatever number of texts it can become. */
class QueryCountsTest {
  private static final String MAPPER =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <mapper namespace="port">
        <select id="found">
          select id from berth where title = #{title}
          <if test="length != null">and length = #{length}</if>
          <if test="id != null">and pier_id = #{pier}</if>
        </select>
        <select id="torn">
          select id from berth where pier_id = 7
          <if test="pier != null">and p.name = #{pier}</if>
        </select>
        <select id="lost">
          select id frm berth <if test="all">where pier_id = 7</if>
        </select>
      </mapper>
      """;

  @TempDir Path directory;

  @Test
  void texts_of_one_statement_count_once() throws Exception {
    SmallService.in(directory).file("mappers/port.xml", MAPPER);
    AnalysisInput input =
        AnalysisInput.builder(directory, "postgresql")
            .changelogs(List.of(AnalysisInput.Changelog.of(SmallService.CHANGELOG)))
            .mapperFiles(List.of(directory.resolve("mappers/port.xml")))
            .build();

    Report report = Analysis.run(input).report();
    Coverage coverage = report.coverage();

    assertThat(coverage.queries()).isEqualTo(3);
    assertThat(coverage.queriesAnalysed()).isEqualTo(2);
    assertThat(coverage.queriesNotAnalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("port.lost");
    assertThat(coverage.otherNotUnderstood())
        .extracting(NotUnderstood::reason)
        .singleElement()
        .asString()
        .startsWith("query port.torn: 1 of the 2 texts that its optional parts make");
    assertThat(report.queries()).extracting(access -> access.query().id()).hasSize(5);
    assertThat(report.findings())
        .filteredOn(finding -> finding.ruleId().equals("missing-index"))
        .as("what three texts of a statement have in common is told once")
        .singleElement()
        .extracting(Finding::render)
        .asString()
        .contains("and 1 more of the texts that the statement's optional parts make");
  }

  @Test
  void what_is_no_query_or_has_no_text_is_told_and_not_counted() throws Exception {
    SmallService.in(directory)
        .file(
            "mappers/port.xml",
            """
            <mapper namespace="port">
              <select id="found">select id from berth where title = #{title} ${scope}</select>
              <update id="emptied">truncate table berth</update>
              <select id="passed">${sql}</select>
            </mapper>
            """);
    AnalysisInput input =
        AnalysisInput.builder(directory, "postgresql")
            .changelogs(List.of(AnalysisInput.Changelog.of(SmallService.CHANGELOG)))
            .mapperFiles(List.of(directory.resolve("mappers/port.xml")))
            .build();

    Coverage coverage = Analysis.run(input).report().coverage();

    assertThat(coverage.queries()).isEqualTo(1);
    assertThat(coverage.queriesAnalysed()).isEqualTo(1);
    assertThat(coverage.queriesWithoutText()).isEqualTo(1);
    assertThat(coverage.queriesNotAnalysed()).isEmpty();
    assertThat(coverage.otherNotUnderstood())
        .extracting(NotUnderstood::reason)
        .containsExactly(
            "query port.found: 1 of the 2 texts that its optional parts make are not analysed, the"
                + " first because what stands for ${scope} is not known",
            "port.emptied is not a query or a change of rows",
            "statement port.passed is passed in as ${sql} at run time: its text is not known");
  }

  @Test
  void mappers_among_the_classes_are_found_where_none_are_named() throws Exception {
    String mapper =
        """
        <?xml version="1.0" encoding="UTF-8"?>
        <!-- a licence -->
        <!DOCTYPE mapper PUBLIC "-//mybatis.org//DTD Mapper 3.0//EN" "http://mybatis.org/dtd/mybatis-3-mapper.dtd">
        <mapper
            namespace="port">
          <select id="found">select id from berth where title = #{title}</select>
        </mapper>
        """;
    SmallService.in(directory)
        .file("target/classes/mappers/port.xml", mapper)
        .file("src/main/resources/mappers/port.xml", mapper)
        .file("target/classes/other.xml", "<beans/>");
    AnalysisInput input =
        AnalysisInput.builder(directory, "postgresql")
            .changelogs(List.of(AnalysisInput.Changelog.of(SmallService.CHANGELOG)))
            .classesDirectory(directory.resolve("target/classes"))
            .sourceDirectories(List.of(directory.resolve("src/main/java")))
            .build();

    Report report = Analysis.run(input).report();

    assertThat(report.queries())
        .extracting(access -> access.query().id() + " " + access.query().location())
        .containsExactly("port.found src/main/resources/mappers/port.xml:6");
  }

  @Test
  void what_nobody_wrote_does_not_raise_the_share_that_is_understood() {
    List<QueryAccess> analysed = new ArrayList<>();
    List<QueryText> texts = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      QuerySource source = i % 2 == 0 ? QuerySource.MAPPING : QuerySource.INHERITED_METHOD;
      texts.add(text("port.Berth#load" + i, source));
    }
    texts.add(text("port.Berths.findByTitle", QuerySource.METHOD_NAME));
    texts.forEach(it -> analysed.add(access(it)));
    UnanalysedQuery lost =
        new UnanalysedQuery(text("port.Berths.lost", QuerySource.MAPPER), "lost");
    UnanalysedQuery unwritten =
        new UnanalysedQuery(text("port.Pier#load", QuerySource.MAPPING), "no key");
    FoundQueries found = new FoundQueries(texts, List.of(lost, unwritten), List.of());

    QueryCounts counts = QueryCounts.of(found, analysed, List.of());

    assertThat(counts.found()).isEqualTo(43);
    assertThat(counts.analysed()).isEqualTo(41);
    assertThat(counts.shareWritten()).as("one of two").isEqualTo(0.5);
    FoundQueries built = found.and(new FoundQueries(List.of(), List.of(), List.of(), 2));
    assertThat(QueryCounts.of(built, analysed, List.of()).shareWritten())
        .as("two more are built at run time")
        .isEqualTo(0.25);
    assertThat(QueryCounts.of(FoundQueries.NONE, List.of(), List.of()).shareWritten())
        .as("nothing is not understood")
        .isEqualTo(1);
  }

  private static QueryText text(String id, QuerySource source) {
    return new QueryText(id, SourceLocation.of("Berths.java"), source, "select 1", "select 1");
  }

  private static QueryAccess access(QueryText text) {
    return new QueryAccess(new Query(text, StatementKind.SELECT, List.of()), List.of());
  }
}
