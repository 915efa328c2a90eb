package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.colonnade.dialect.Dialects;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Bad input: one clear message with the place, or one entry while the rest goes on. */
class BadChangelogTest {
  private static final String TABLE =
      "<createTable tableName=\"berth\"><column name=\"id\" type=\"int\"/></createTable>";

  @TempDir Path directory;

  private ChangelogFixture fixture() {
    return new ChangelogFixture(directory);
  }

  private static void fails(ChangelogFixture fixture, String message) {
    assertThatThrownBy(fixture::read).isInstanceOf(ChangelogException.class).hasMessage(message);
  }

  @Test
  void missing_root() {
    fails(
        fixture().root("db/nothing.xml"),
        "db/nothing.xml:1: cannot find this changelog in the base directory");
  }

  @Test
  void broken_xml() {
    fails(
        fixture()
            .xml(
                "<changeSet id='1' author='harbour'>\n  <createTable tableName='a'>\n</changeSet>"),
        "changelog.xml:5: The element type \"createTable\" must be terminated by"
            + " the matching end-tag \"</createTable>\".");
  }

  @Test
  void other_xml() {
    fails(
        fixture().file("pom.xml", "<project>\n</project>").root("pom.xml"),
        "pom.xml:1: root element is project, not databaseChangeLog");
  }

  /** Liquibase 4.33 refuses such an update: "1 changesets had duplicate identifiers". */
  @Test
  void two_change_sets_of_one_identity() throws Exception {
    ChangelogResult result =
        fixture()
            .xml(
                "<changeSet id='1' author='harbour'>"
                    + TABLE
                    + "</changeSet>\n<changeSet id='1' author='harbour'>"
                    + TABLE.replace("berth", "quay")
                    + "</changeSet>")
            .read();
    assertThat(result.schema().tables()).hasSize(1);
    assertThat(ChangelogFixture.reasons(result))
        .singleElement()
        .asString()
        .contains("the same id, author and file: an update would stop; left out");
  }

  /** An update says the same before it runs anything. */
  @Test
  void a_change_that_lacks_what_the_database_needs() {
    ChangelogResult result =
        fixture()
            .database(Dialects.mariadb())
            .xml(
                "<changeSet id='1' author='harbour'>"
                    + TABLE
                    + "\n<renameColumn tableName='berth' oldColumnName='id' newColumnName='no'/>"
                    + "</changeSet>")
            .read();
    assertThat(ChangelogFixture.reasons(result))
        .singleElement()
        .asString()
        .endsWith("renameColumn: columnDataType is required for renameColumn on mariadb");
  }

  @Test
  void external_entity() {
    fails(
        fixture()
            .file("secret.txt", "secret")
            .file(
                "changelog.xml",
                """
                <!DOCTYPE databaseChangeLog [<!ENTITY secret SYSTEM "secret.txt">]>
                <databaseChangeLog>
                  <changeSet id="1" author="harbour"><sql>&secret;</sql></changeSet>
                </databaseChangeLog>
                """)
            .root("changelog.xml"),
        "changelog.xml:3: external entity secret.txt is not read");
  }

  @Test
  void broken_yaml() {
    fails(
        fixture().file("a.yaml", "databaseChangeLog:\n  - changeSet: {id: 1\n").root("a.yaml"),
        "a.yaml:3: expected ',' or '}', but got <stream end>");
  }

  @Test
  void yaml_without_changelog() {
    fails(
        fixture().file("a.yaml", "berths:\n  - a\n").root("a.yaml"),
        "a.yaml:1: no databaseChangeLog in the file");
  }

  @Test
  void yaml_in_another_encoding() throws Exception {
    ChangelogFixture fixture = fixture().root("a.yaml");
    Files.write(
        directory.resolve("a.yaml"),
        "databaseChangeLog:\n  - changeSet: {id: 1, author: \u00e5}\n"
            .getBytes(StandardCharsets.ISO_8859_1));
    fails(fixture, "a.yaml:1: the text is not written in UTF-8");
  }

  @Test
  void broken_json() {
    fails(
        fixture()
            .file("a.json", "{\"databaseChangeLog\": [\n {\"changeSet\": ]\n]}")
            .root("a.json"),
        "a.json:2: expected the node content, but found ']'");
  }

  @Test
  void broken_included_file() {
    fails(
        fixture()
            .xml("<include file='db/bad.xml'/>")
            .file("db/bad.xml", "<databaseChangeLog>\n\n<changeSet"),
        "db/bad.xml:3: XML document structures must start and end within the same" + " entity.");
  }

  @Test
  void missing_included_file() {
    fails(
        fixture()
            .xml("<include file='db/ok.xml'/>\n<include file='db/gone.xml'/>")
            .file("db/ok.xml", ChangelogFixture.wrap("")),
        "changelog.xml:4: cannot find db/gone.xml");
  }

  @Test
  void missing_file_in_included_file() {
    fails(
        fixture()
            .xml("<include file='db/ok.yaml'/>")
            .file(
                "db/ok.yaml",
                """
                databaseChangeLog:
                  - include: {file: gone.xml, relativeToChangelogFile: true}
                """),
        "db/ok.yaml:2: cannot find db/gone.xml");
  }

  @Test
  void cyclic_include() {
    fails(
        fixture()
            .xml("<include file='db/a.xml'/>")
            .file("db/a.xml", ChangelogFixture.wrap("<include file='db/b.yaml'/>"))
            .file("db/b.yaml", "databaseChangeLog:\n  - include: {file: db/a.xml}\n"),
        "db/a.xml:1: changelog includes itself: db/a.xml -> db/b.yaml -> db/a.xml");
  }

  @Test
  void broken_formatted_sql() {
    fails(
        fixture()
            .file("a.sql", "--liquibase formatted sql\n\n--changeset harbour\nselect 1;\n")
            .root("a.sql"),
        "a.sql:3: Unexpected formatting in formatted changelog 'a.sql' at line 3. Formatted SQL"
            + " changelogs require known formats, such as '--changeset <authorname>:<changesetId>'"
            + " and others to be recognized and run.");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "<dredge tableName='berth' depth='3'/>|unknown change type dredge",
        "<dredge/>|unknown change type dredge",
        "<ext:dredge xmlns:ext='urn:x'><layer no='1'/></ext:dredge>|unknown change type dredge",
        "<executeCommand executable='rm'/>|executeCommand is not run",
        "<stop/>|stop: an update would end here; read on",
        "<sql>create magic berth</sql>|"
            + "statement create magic berth: what is created is not understood at 'magic'",
        "<sql>create table (</sql>|statement create table (: expected a name at '('",
        "<sqlFile path='gone.sql'/>|sqlFile: cannot find gone.sql",
        "<createIndex tableName='pier' indexName='a'><column name='x'/></createIndex>|"
            + "create index: no table pier at this point",
        "<createIndex tableName='berth' indexName='a'><column name='x'/></createIndex>|"
            + "create index: table berth has no column x at this point",
        "<dropColumn tableName='berth' columnName='x'/>|"
            + "drop column: table berth has no column x at this point",
        "<dropIndex tableName='berth' indexName='x'/>|drop index: no index x at this point",
        "<createTable tableName='berth'><column name='a' type='int'/></createTable>|"
            + "create table: berth exists already",
      })
  void one_entry_and_the_rest_goes_on(String change, String reason) {
    ChangelogFixture fixture =
        fixture()
            .xml(
                "<changeSet id='1' author='harbour'>\n"
                    + TABLE
                    + "\n"
                    + change
                    + "\n<addPrimaryKey tableName='berth' columnNames='id'/></changeSet>");
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).containsExactly("changelog.xml:5 " + reason);
    assertThat(result.notUnderstood().get(0).location().changeSet()).contains("1::harbour");
    assertThat(fixture.table("berth")).contains("unique berth_pkey(id) primary-key 6");
    assertThat(result.total()).isEqualTo(3);
    assertThat(result.applied()).isEqualTo(2);
  }

  @Test
  void unknown_element_and_precondition() {
    ChangelogResult result =
        fixture()
            .xml(
                """
                <harbour><x y="1"/></harbour>
                <changeSet id="1" author="harbour">
                  <preConditions><moonPhase><phase no="1"/></moonPhase></preConditions>
                  <createTable tableName="berth"><column name="id" type="int"/></createTable>
                </changeSet>
                """)
            .read();
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly(
            "changelog.xml:3 unknown element harbour",
            "changelog.xml:4 a precondition cannot be decided here; taken to hold; to decide it,"
                + " set preconditionResults for \"1::harbour\" to true or false");
    assertThat(result.schema().tables()).hasSize(1);
  }

  @Test
  void unknown_change_type_in_yaml() {
    ChangelogResult result =
        fixture()
            .file(
                "a.yaml",
                """
                databaseChangeLog:
                  - changeSet:
                      id: 1
                      author: harbour
                      changes:
                        - dredge: {depth: 3}
                        - createTable:
                            tableName: berth
                            columns:
                              - column: {name: id, type: int}
                """)
            .root("a.yaml")
            .read();
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly("a.yaml:6 unknown change type dredge");
    assertThat(result.schema().tables()).hasSize(1);
  }
}
