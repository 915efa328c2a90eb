package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** No class that a changelog names is loaded, in any format, plain or included. */
class NoServiceCodeTest {
  private static final String CLASS = "dev.colonnade.schema.liquibase.LeavesTrace";
  private static final Path TRACE = Path.of("target/loaded-class-of-the-service");
  private static final Path COMMANDED = Path.of("target/command-of-the-service");

  private static final String XML =
      ChangelogFixture.wrap(
          """
          <changeSet id="1" author="harbour">
            <preConditions onFail="WARN"><customPrecondition className="CLASS"/></preConditions>
            <customChange class="CLASS"><param name="a" value="b"/></customChange>
            <executeCommand executable="touch"><arg value="COMMANDED"/></executeCommand>
            <createTable tableName="xml_berth"><column name="id" type="int"/></createTable>
            <rollback><customChange class="CLASS"/></rollback>
          </changeSet>
          """
              .replace("CLASS", CLASS)
              .replace("COMMANDED", COMMANDED.toString()));

  private static final String YAML =
      """
      databaseChangeLog:
        - changeSet:
            id: 2
            author: harbour
            preConditions:
              - onFail: WARN
              - customPrecondition:
                  className: CLASS
            changes:
              - customChange:
                  class: CLASS
              - executeCommand:
                  executable: touch
                  args: [{arg: {value: COMMANDED}}]
              - createTable:
                  tableName: yaml_berth
                  columns:
                    - column: {name: id, type: int}
            rollback:
              - customChange:
                  class: CLASS
      """
          .replace("CLASS", CLASS)
          .replace("COMMANDED", COMMANDED.toString());

  private static final String JSON =
      """
      {"databaseChangeLog": [
        {"changeSet": {
          "id": "3", "author": "harbour",
          "preConditions": [{"customPrecondition": {"className": "CLASS"}}],
          "changes": [
            {"customChange": {"class": "CLASS"}},
            {"executeCommand": {"executable": "touch", "args": [{"arg": {"value": "COMMANDED"}}]}},
            {"createTable": {"tableName": "json_berth",
              "columns": [{"column": {"name": "id", "type": "int"}}]}}
          ],
          "rollback": [{"customChange": {"class": "CLASS"}}]
        }}
      ]}
      """
          .replace("CLASS", CLASS)
          .replace("COMMANDED", COMMANDED.toString());

  @TempDir Path directory;

  @Test
  void loads_no_class_of_the_service() throws Exception {
    Files.deleteIfExists(TRACE);
    Files.deleteIfExists(COMMANDED);
    ChangelogFixture plain =
        new ChangelogFixture(directory)
            .file("db/a.xml", XML)
            .file("db/b.yaml", YAML)
            .file("db/c.json", JSON)
            .root("db/a.xml")
            .root("db/b.yaml")
            .root("db/c.json");
    check(plain.read(), List.of());

    String include =
        "<includeAll path=\"db/\" filter=\"%s\" resourceComparator=\"%s\"/>"
            .formatted(CLASS, CLASS);
    ChangelogFixture xml = new ChangelogFixture(directory).xml(include);
    String noted =
        "includeAll: class "
            + CLASS
            + " is not run; every file of the directory is taken, in order of its name";
    check(xml.read(), List.of("changelog.xml:3 " + noted));

    ChangelogFixture yaml =
        new ChangelogFixture(directory)
            .file(
                "all.yaml",
                """
                databaseChangeLog:
                  - includeAll: {path: db/, resourceFilter: CLASS, resourceComparator: CLASS}
                """
                    .replace("CLASS", CLASS))
            .root("all.yaml");
    check(yaml.read(), List.of("all.yaml:2 " + noted));

    ChangelogFixture json =
        new ChangelogFixture(directory)
            .file(
                "all.json",
                """
                {"databaseChangeLog": [
                  {"includeAll": {"path": "db/", "filter": "CLASS", "resourceComparator": "CLASS"}}
                ]}
                """
                    .replace("CLASS", CLASS))
            .root("all.json");
    check(json.read(), List.of("all.json:2 " + noted));

    // The trap works: loading the class does leave the file.
    Class.forName(CLASS);
    assertThat(TRACE).exists();
    Files.delete(TRACE);
  }

  private static void check(ChangelogResult result, List<String> noted) {
    assertThat(TRACE).doesNotExist();
    assertThat(COMMANDED).doesNotExist();
    assertThat(result.schema().tables()).hasSize(3);
    assertThat(result.applied()).isEqualTo(3);
    String change = " custom change " + CLASS + " is not run";
    String command = " executeCommand is not run";
    String precondition =
        " a precondition cannot be decided here; taken to hold; to decide it, set"
            + " preconditionResults for \"%d::harbour\" to true or false";
    assertThat(ChangelogFixture.reasons(result))
        .containsAll(noted)
        .contains(
            "db/a.xml:3" + precondition.formatted(1),
            "db/a.xml:5" + change,
            "db/a.xml:6" + command,
            "db/b.yaml:2" + precondition.formatted(2),
            "db/b.yaml:10" + change,
            "db/b.yaml:12" + command,
            "db/c.json:2" + precondition.formatted(3),
            "db/c.json:6" + change,
            "db/c.json:7" + command)
        .hasSize(9 + (noted.isEmpty() ? 0 : result.notUnderstood().size() - 9));
  }
}
