package dev.colonnade.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.analysis.AnalysisInput;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole road on real H2 2.x and PostgreSQL 18, started inside the test. */
class MeasureTest {
  private static final String CHANGELOG =
      """
      databaseChangeLog:
        - changeSet:
            id: 1
            author: harbour
            changes:
              - createTable:
                  tableName: berth
                  columns:
                    - column: {name: id, type: bigint, constraints: {primaryKey: true, nullable: false}}
                    - column: {name: pier, type: varchar(20), constraints: {nullable: false}}
                    - column: {name: length, type: int}
              - createIndex:
                  indexName: berth_pier_ix
                  tableName: berth
                  columns:
                    - column: {name: pier}
        - changeSet:
            id: 2
            author: harbour
            changes:
              - customChange: {class: com.example.harbour.NeverLoaded}
      """;

  @TempDir Path base;

  @BeforeEach
  void service() throws Exception {
    Files.writeString(base.resolve("changelog.yaml"), CHANGELOG);
    Files.writeString(
        base.resolve("berths.sql"),
        """
        select id from berth where pier = ?;
        select id from berth where length > ?;
        select pier from berth where id = ?;
        """);
    Files.writeString(
        base.resolve("statistics.yaml"),
        """
        formatVersion: 1
        tables:
          berth:
            rows: 20_000
            columns:
              pier: {distinct: 2_000}
              length: {distinct: 50, nullFraction: 0.2}
        """);
  }

  private AnalysisInput input(String database) {
    return AnalysisInput.builder(base, database)
        .changelogs(
            List.of(
                new AnalysisInput.Changelog("changelog.yaml", Optional.empty(), Optional.empty())))
        .queryFiles(List.of(base.resolve("berths.sql")))
        .statisticsFile(Optional.of(base.resolve("statistics.yaml")))
        .outputDirectory(base.resolve("out"))
        .build();
  }

  private static MeasureOptions embedded() {
    return new MeasureOptions(Optional.empty(), Optional.empty(), Optional.empty(), false, 5_000);
  }

  private String measure(String database) throws Exception {
    List<String> lines =
        Measure.run(
            input(database), embedded(), (name, embedded) -> MeasureTest.class.getClassLoader());
    String page = Files.readString(base.resolve("out/measure.md"));
    assertThat(page).contains(lines.get(0));
    return page;
  }

  @Test
  void h2_takes_the_predicted_indexes() throws Exception {
    String page = measure("h2");
    assertThat(page).contains("3 queries planned; 0 where an index does something else");
    assertThat(page).contains("changelog.yaml:").contains("NeverLoaded");
    assertThat(measure("h2")).as("same input, same bytes").isEqualTo(page);
  }

  @Test
  void postgresql_takes_the_predicted_indexes_for_any_value() throws Exception {
    assertThat(measure("postgresql"))
        .contains("3 queries planned; 0 where an index does something else");
  }

  @Test
  void mariadb_answers_for_every_query() throws Exception {
    assertThat(measure("mariadb")).contains("3 queries planned");
  }

  /** Of 20,000 rows one is put in: the planner of so small a table leaves its index alone. */
  @Test
  void a_difference_is_shown_with_both_plans() throws Exception {
    MeasureOptions oneRow =
        new MeasureOptions(Optional.empty(), Optional.empty(), Optional.empty(), false, 1);
    List<String> lines =
        Measure.run(
            input("postgresql"), oneRow, (name, embedded) -> MeasureTest.class.getClassLoader());
    assertThat(lines)
        .contains(
            "berths.sql:3: table berth (1 pages): predicted berth_pkey, the planner takes no"
                + " index");
    assertThat(Files.readString(base.resolve("out/measure.md")))
        .contains("## The same on small tables")
        .contains("berth: unique-lookup berth_pkey (id)")
        .contains("Seq Scan on berth");
  }

  /** Of so many rows the prediction, made for those that were put in, is the planner's own way. */
  @Test
  void prediction_and_plan_speak_of_the_same_rows() throws Exception {
    MeasureOptions fewRows =
        new MeasureOptions(Optional.empty(), Optional.empty(), Optional.empty(), false, 1_000);
    List<String> lines =
        Measure.run(
            input("postgresql"), fewRows, (name, embedded) -> MeasureTest.class.getClassLoader());

    assertThat(lines).hasSize(1);
  }

  @Test
  void a_database_given_must_be_confirmed() {
    MeasureOptions given =
        new MeasureOptions(
            Optional.of("jdbc:h2:mem:"), Optional.empty(), Optional.empty(), false, 100);
    assertThatThrownBy(
            () ->
                Measure.run(
                    input("h2"),
                    given,
                    (name, embedded) -> {
                      throw new AssertionError("nothing is resolved");
                    }))
        .isInstanceOf(MeasureException.class)
        .hasMessageContaining("Never give it a production database")
        .hasMessageContaining("-Dcolonnade.measureConfirmed");
  }

  @Test
  void a_confirmed_one_is_measured() throws Exception {
    MeasureOptions given =
        new MeasureOptions(
            Optional.of("jdbc:h2:mem:"), Optional.empty(), Optional.empty(), true, 100);
    assertThat(
            Measure.run(input("h2"), given, (name, embedded) -> MeasureTest.class.getClassLoader()))
        .anyMatch(line -> line.contains("3 queries planned"));
  }

  @Test
  void another_database_is_refused_with_the_list() {
    assertThatThrownBy(
            () ->
                Measure.run(
                    input("derby"),
                    embedded(),
                    (name, embedded) -> MeasureTest.class.getClassLoader()))
        .hasMessage("measure asks h2, mariadb, postgresql, not 'derby'");
  }
}
