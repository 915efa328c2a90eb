package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Which preconditions hold, and what becomes of change sets whose do not. */
class PreconditionDecisionsTest {
  @TempDir Path directory;

  private ChangelogFixture fixture() {
    return new ChangelogFixture(directory);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "<tableExists tableName='BERTH'/>|true",
        "<tableExists tableName='pier'/>|false",
        "<not><tableExists tableName='pier'/></not>|true",
        "<columnExists tableName='berth' columnName='depth'/>|true",
        "<columnExists tableName='berth' columnName='gone'/>|false",
        "<indexExists indexName='berth_ix'/>|true",
        "<indexExists tableName='berth' columnNames='depth, id'/>|true",
        "<indexExists tableName='berth' columnNames='id'/>|true",
        "<indexExists tableName='berth' columnNames='depth'/>|false",
        "<viewExists viewName='deep'/>|true",
        "<viewExists viewName='berth'/>|false",
        "<primaryKeyExists tableName='berth'/>|true",
        "<primaryKeyExists primaryKeyName='berth_pk'/>|true",
        "<primaryKeyExists tableName='booking'/>|false",
        "<foreignKeyConstraintExists foreignKeyName='booking_fk'/>|true",
        "<foreignKeyConstraintExists foreignKeyTableName='booking' foreignKeyName='x'/>|false",
        "<uniqueConstraintExists tableName='berth' columnNames='depth'/>|false",
        "<uniqueConstraintExists tableName='booking' constraintName='booking_uq'/>|true",
        "<dbms type='postgresql'/>|true",
        "<dbms type='h2'/>|false",
        "<or><dbms type='h2'/><dbms type='postgresql'/></or>|true",
        "<and><dbms type='h2'/><tableExists tableName='berth'/></and>|false",
        "<changeSetExecuted id='0' author='harbour' changeLogFile='changelog.xml'/>|true",
        "<changeSetExecuted id='9' author='harbour' changeLogFile='changelog.xml'/>|false",
        "<changeLogPropertyDefined property='p' value='1'/>|true",
        "<changeLogPropertyDefined property='q'/>|false",
        "<or><dbms type='postgresql'/><sqlCheck expectedResult='1'>select 1</sqlCheck></or>|true",
      })
  void decides_preconditions(String precondition, boolean holds) {
    String before =
        "<property name='p' value='1'/>"
            + ChangelogFixture.changeSet(
                "0",
                "",
                "<sql>create table berth (id int, depth int, constraint berth_pk primary key (id));"
                    + "create index berth_ix on berth (depth, id);"
                    + "create table booking (berth int, constraint booking_fk foreign key (berth)"
                    + " references berth, constraint booking_uq unique (berth));"
                    + "create view deep as select id from berth</sql>");
    String preconditions = "<preConditions onFail='%s'>" + precondition + "</preConditions>";
    for (String onFail : List.of("CONTINUE", "MARK_RAN", "WARN", "HALT")) {
      ChangelogResult result =
          fixture()
              .xml(
                  before
                      + ChangelogFixture.changeSet(
                          "1",
                          "",
                          preconditions.formatted(onFail) + ChangelogFixture.createTable("tide")))
              .read();
      assertThat(ChangelogFixture.names(result.schema()).contains("tide"))
          .isEqualTo(holds || onFail.equals("WARN"));
      assertThat(ChangelogFixture.reasons(result)).hasSize(holds || !onFail.equals("HALT") ? 0 : 1);
    }
  }

  private static final String UNKNOWN =
      "<preConditions onFail='MARK_RAN'><sqlCheck expectedResult='0'>select 0"
          + "</sqlCheck></preConditions>";

  @Test
  void unknown_preconditions_run_and_are_listed() {
    ChangelogResult result =
        fixture()
            .xml(
                ChangelogFixture.changeSet(
                    "1", "", UNKNOWN + ChangelogFixture.createTable("berth")))
            .read();
    assertThat(ChangelogFixture.names(result.schema())).containsExactly("berth");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly(
            "changelog.xml:3 a precondition cannot be decided here; taken to hold; to decide it,"
                + " set preconditionResults for \"1::harbour\" to true or false");
  }

  @Test
  void unknown_preconditions_can_be_decided_by_hand() {
    ChangelogResult result =
        fixture()
            .xml(
                ChangelogFixture.changeSet("1", "", UNKNOWN + ChangelogFixture.createTable("berth"))
                    + ChangelogFixture.changeSet(
                        "2", "", UNKNOWN + ChangelogFixture.createTable("quay"))
                    + ChangelogFixture.changeSet(
                        "3", "", UNKNOWN + ChangelogFixture.createTable("tide"))
                    + ChangelogFixture.changeSet("4", "", ChangelogFixture.createTable("pilot")))
            .holds("1::harbour", true)
            .holds("2::harbour", false)
            .holds("3::harbour", true)
            .holds("changelog.xml::3::harbour", false)
            .holds("4::harbour", false)
            .read();
    assertThat(ChangelogFixture.names(result.schema())).containsExactly("berth", "pilot");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly(
            "pom.xml:1 preconditionResults: nothing in the changelogs waits for \"3::harbour\"",
            "pom.xml:1 preconditionResults: nothing in the changelogs waits for \"4::harbour\"");
  }

  @Test
  void a_changelog_may_only_warn_of_its_preconditions() {
    String wrong = "<preConditions onFail='%s'><dbms type='oracle'/></preConditions>";
    String berth = ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("berth"));
    assertThat(ChangelogFixture.reasons(fixture().xml(wrong.formatted("WARN") + berth).read()))
        .isEmpty();
    assertThat(ChangelogFixture.reasons(fixture().xml(wrong.formatted("HALT") + berth).read()))
        .containsExactly(
            "changelog.xml:1 a precondition of the changelog fails: an update would stop; read on");
  }
}
