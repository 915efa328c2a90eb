package dev.colonnade.published;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.published.PublishedCase.Check;
import dev.colonnade.query.Query;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Worked examples from the manuals of ten databases and from textbooks, each with its source in the
 * file of its case. What an index offers is checked, never what an optimizer would choose, except
 * where a case has one way only.
 */
class PublishedExamplesTest {

  private static List<PublishedCase> cases() {
    return PublishedCaseReader.all();
  }

  @ParameterizedTest
  @MethodSource("cases")
  void the_outcome_is_the_published_one(PublishedCase published) {
    Schema schema = SchemaNotation.read(published.definitions(), published.dialect());
    AccessPathAnalyzer analyzer =
        new AccessPathAnalyzer(
            schema, published.dialect(), StatisticsNotation.read(published.definitions()));
    StatementParser parser = new StatementParser(schema, published.dialect());
    assertThat(published.checks()).isNotEmpty();
    for (Check check : published.checks()) {
      Query query = parse(parser, check.query(), published);
      List<TableAccess> accesses = analyzer.analyze(query).tables();
      assertThat(check.expectations()).as(check.query()).isNotEmpty();
      for (String expectation : check.expectations()) {
        verify(published, check, expectation, accesses);
      }
    }
  }

  private static Query parse(StatementParser parser, String sql, PublishedCase published) {
    StatementReading reading =
        parser.parse(
            new QueryText(
                published.id(), SourceLocation.of("published.cases"), QuerySource.FILE, sql, sql));
    assertThat(reading).as(sql).isInstanceOf(StatementReading.Analysed.class);
    return ((StatementReading.Analysed) reading).query();
  }

  private static void verify(
      PublishedCase published, Check check, String expectation, List<TableAccess> accesses) {
    String[] sides = expectation.split(" -> ", -1);
    TableAccess access = access(sides[0], accesses);
    Candidate candidate =
        sides[0].equals("chosen")
            ? access.chosen()
            : access.candidates().stream()
                .filter(it -> it.index().orElseThrow().name().text().equals(sides[0]))
                .findFirst()
                .orElseThrow();
    String state =
        String.join(
            System.lineSeparator(),
            published + " from " + published.source(),
            check.query(),
            CandidateFacts.describe(candidate));
    List<String> actual = new ArrayList<>();
    List<String> expected = List.of(sides[1].split("; ", -1));
    for (String property : expected) {
      String name = property.split(" ", -1)[0];
      actual.add((name + " " + CandidateFacts.value(name, candidate, access)).strip());
    }
    assertThat(actual).as(state).isEqualTo(expected);
  }

  private static TableAccess access(String name, List<TableAccess> accesses) {
    if (name.equals("chosen")) {
      return accesses.get(0);
    }
    return accesses.stream()
        .filter(
            access ->
                access.candidates().stream()
                    .anyMatch(it -> it.index().orElseThrow().name().text().equals(name)))
        .findFirst()
        .orElseThrow();
  }
}
