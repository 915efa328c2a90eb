package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.statistics.Confidence;
import dev.colonnade.statistics.Estimate;
import dev.colonnade.statistics.RowCount;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Rows that a changelog itself loads, compared with what Liquibase's own update leaves in H2. */
class LoadedRowsTest {
  private static final String BODY =
      """
      <changeSet id="1" author="harbour">
        <createTable tableName="vessel">
          <column name="id" type="int"><constraints primaryKey="true"/></column>
          <column name="name" type="varchar(40)"/>
        </createTable>
        <createTable tableName="pilot"><column name="id" type="int"/></createTable>
        <createTable tableName="quay">
          <column name="id" type="int"><constraints primaryKey="true"/></column>
          <column name="name" type="varchar(40)"/>
        </createTable>
        <createTable tableName="tide"><column name="id" type="int"/></createTable>
        <createTable tableName="mooring"><column name="id" type="int"/></createTable>
      </changeSet>
      <changeSet id="2" author="harbour">
        <loadData tableName="vessel" file="data/vessels.csv" separator=";" quotchar="'"
                  commentLineStartsWith="//"/>
        <loadUpdateData tableName="quay" file="data/quays.csv" relativeToChangelogFile="true"
                        primaryKey="id"/>
        <insert tableName="pilot"><column name="id" valueNumeric="1"/></insert>
        <sql>insert into pilot (id) values (2), (3); insert into pilot values (4)</sql>
        <sql>insert into tide values (1), (2); delete from tide; insert into tide values (3)</sql>
        <insert tableName="mooring"><column name="id" valueNumeric="1"/></insert>
        <delete tableName="mooring"/>
      </changeSet>
      <changeSet id="3" author="harbour">
        <loadUpdateData tableName="quay" file="data/quays.csv" primaryKey="id"/>
      </changeSet>
      """;

  @TempDir Path directory;

  private ChangelogFixture fixture() {
    return new ChangelogFixture(directory)
        .file("data/vessels.csv", "id;name\n1;'a;b'\n//2;'no'\n3;'d'\n4;'e'\n")
        .file("data/quays.csv", "id,name\n1,\"north, old\"\n2,south\n")
        .database(Dialects.h2());
  }

  @Test
  void are_as_many_as_an_update_leaves() throws Exception {
    String declared =
        ChangelogFixture.wrap(BODY)
            .replace(
                "<databaseChangeLog ",
                "<databaseChangeLog xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\""
                    + " xsi:schemaLocation=\"http://www.liquibase.org/xml/ns/dbchangelog"
                    + " http://www.liquibase.org/xml/ns/dbchangelog/dbchangelog-latest.xsd\" ");
    ChangelogResult result = fixture().file("changelog.xml", declared).root("changelog.xml").read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    Map<String, Long> rows = new TreeMap<>();
    try (Connection connection = DriverManager.getConnection("jdbc:h2:mem:")) {
      RealSchema.update(connection, RealSchema.accessor(directory), null, "changelog.xml");
      for (String table : new String[] {"vessel", "pilot", "quay", "tide", "mooring"}) {
        try (Statement statement = connection.createStatement();
            ResultSet count = statement.executeQuery("select count(*) from " + table)) {
          count.next();
          if (count.getLong(1) > 0) {
            rows.put(table, count.getLong(1));
          }
        }
      }
    }
    Map<String, Long> derived = new TreeMap<>();
    result.rowsLoaded().forEach((table, count) -> derived.put(table.folded(), count));
    assertThat(derived).isEqualTo(rows).containsEntry("vessel", 3L).containsEntry("quay", 2L);
  }

  @Test
  void are_unknown_where_nobody_can_count_them() {
    ChangelogResult result =
        fixture()
            .xml(
                """
                <changeSet id="1" author="harbour">
                  <createTable tableName="vessel"><column name="id" type="int"/></createTable>
                  <createTable tableName="quay"><column name="id" type="int"/></createTable>
                  <insert tableName="vessel"><column name="id" valueNumeric="1"/></insert>
                  <delete tableName="vessel"><where>id = 1</where></delete>
                  <insert tableName="quay"><column name="id" valueNumeric="1"/></insert>
                  <sql>insert into quay select id from vessel</sql>
                  <loadData tableName="quay" file="data/gone.csv"/>
                </changeSet>
                """)
            .read();
    assertThat(result.rowsLoaded()).isEmpty();
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly("changelog.xml:10 loadData: cannot find data/gone.csv");
  }

  @Test
  void reach_the_estimates_unless_a_number_is_stated() {
    Identifier vessel = Identifier.of("vessel");
    Identifier pilot = Identifier.of("pilot");
    Statistics stated =
        new Statistics(
            Map.of(
                vessel,
                new TableStatistics(OptionalDouble.of(900), OptionalDouble.empty(), Map.of())));
    Statistics all = stated.withLoadedRows(Map.of(vessel, 3L, pilot, 4L));
    assertThat(RowCount.of(all.table(vessel))).isEqualTo(Estimate.declared(900));
    assertThat(RowCount.of(all.table(pilot))).isEqualTo(new Estimate(4, Confidence.DERIVED));
    assertThat(RowCount.of(all.table(Identifier.of("tide"))).confidence())
        .isEqualTo(Confidence.ASSUMED);
  }
}
