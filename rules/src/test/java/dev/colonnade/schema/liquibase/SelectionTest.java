package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Identifier;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Which change sets run, and with which text. */
class SelectionTest {
  @TempDir Path directory;

  private ChangelogFixture fixture() {
    return new ChangelogFixture(directory);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      nullValues = "-",
      value = {
        "context='test'|-|-|true",
        "context='test'|test|-|true",
        "context='test'|prod|-|false",
        "context='!test'|prod|-|true",
        "contextFilter='test and eu'|test,eu|-|true",
        "contextFilter='test and eu'|test|-|false",
        "-|prod|-|true",
        "labels='v1, v2'|-|v2|true",
        "labels='v1'|-|v2|false",
        "labels='v1,v2'|-|v1 and !v2|false",
        "labels='v1'|-|-|true",
        "dbms='postgresql'|-|-|true",
        "dbms='h2, oracle'|-|-|false",
        "dbms='!postgresql'|-|-|false",
        "dbms='!h2'|-|-|true",
        "dbms='none'|-|-|false",
        "dbms='all'|-|-|true",
        "ignore='true'|-|-|false",
      })
  void runs_what_the_attributes_select(
      String attributes, String contexts, String labels, boolean runs) {
    ChangelogFixture fixture =
        fixture()
            .file(
                "a.xml",
                ChangelogFixture.wrap(
                    ChangelogFixture.changeSet(
                        "1",
                        attributes == null ? "" : attributes,
                        ChangelogFixture.createTable("berth"))))
            .root("a.xml", contexts, labels);
    assertThat(ChangelogFixture.names(fixture.read().schema()))
        .isEqualTo(runs ? List.of("berth") : List.of());
  }

  @Test
  void include_hands_contexts_and_ignore_down() {
    String included =
        ChangelogFixture.wrap(
            ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("berth")));
    ChangelogFixture fixture =
        fixture()
            .file("a.xml", included)
            .file("b.xml", included.replace("berth", "tide"))
            .file("c.xml", included.replace("berth", "pilot"))
            .file(
                "root.xml",
                ChangelogFixture.wrap(
                    "<include file='a.xml' context='test'/><include file='b.xml' context='prod'/>"
                        + "<include file='c.xml' ignore='true'/>"))
            .root("root.xml", "prod", null);
    assertThat(ChangelogFixture.names(fixture.read().schema())).containsExactly("tide");
  }

  @Test
  void finds_included_files() {
    ChangelogFixture fixture =
        fixture()
            .file(
                "db/a/one.xml",
                ChangelogFixture.wrap(
                    ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("one"))))
            .file(
                "db/a/b/two.yaml",
                """
                databaseChangeLog:
                  - include: {file: ../one.xml, relativeToChangelogFile: true}
                  - changeSet:
                      id: 2
                      author: harbour
                      changes:
                        - sqlFile: {path: three.sql, relativeToChangelogFile: true}
                """)
            .file("db/a/b/three.sql", "-- comment\ncreate table three (id int);\n")
            .file("all/2.sql", "create table all2 (id int);")
            .file(
                "all/1.xml",
                ChangelogFixture.wrap(
                    ChangelogFixture.changeSet("3", "", ChangelogFixture.createTable("all1"))))
            .file("all/deep/3.sql", "create table all3 (id int references all2);")
            .file("all/readme.txt", "not a changelog")
            .xml(
                "<include file='classpath:db/a/b/two.yaml'/>"
                    + "<includeAll path='all' maxDepth='2'/>");
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(ChangelogFixture.names(result.schema()))
        .containsExactly("all1", "all2", "all3", "one", "three");
    assertThat(result.schema().tables())
        .extracting(table -> table.location().toString())
        .containsExactly(
            "all/1.xml:3",
            "all/2.sql:1",
            "all/deep/3.sql:1",
            "db/a/one.xml:3",
            "db/a/b/three.sql:2");
  }

  @Test
  void expands_properties() {
    ChangelogFixture fixture =
        fixture()
            .xml(
                """
                <property name="prefix" value="pg" dbms="postgresql"/>
                <property name="prefix" value="h2" dbms="h2"/>
                <property file="names.properties"/>
                <property name="suffix" value="ignored"/>
                <changeSet id="1" author="harbour">
                  <createTable tableName="${prefix}_${suffix}"><column name="id" type="${type}"/></createTable>
                  <sql>create index ${prefix}_ix on ${prefix}_${suffix} (id)</sql>
                  <sqlFile path="a.sql"/>
                </changeSet>
                """)
            .file("a.sql", "create unique index ${prefix}_${unknown} on ${prefix}_${suffix} (id);")
            .file("names.properties", "suffix=berth\n")
            .parameter("type", "bigint");
    ChangelogResult result = fixture.read();
    assertThat(fixture.table("pg_berth"))
        .containsExactly(
            "id BIG_INTEGER", "unique pg_(id) create-index 1", "index pg_ix(id) create-index 9");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly(
            "a.sql:1 parameter unknown has no value: read as empty within a name, elsewhere as a"
                + " word; set changelogParameters");
    assertThat(ChangelogFixture.names(fixture.database(Dialects.h2()).read().schema()))
        .containsExactly("h2_berth");
  }

  /** Liquibase gives this parameter the schema of the connection, which is not there yet. */
  @Test
  void the_default_schema_is_no_part_of_a_name() {
    String body =
        """
        <changeSet id="1" author="harbour">
          <sql>create table ${database.defaultSchemaName}.berth (id int);
               create index berth_ix on ${database.defaultSchemaName}.berth (id);
               create index home on "${database.defaultSchemaName}".berth (id)</sql>
        </changeSet>
        """;
    ChangelogFixture fixture = fixture().xml(body);
    assertThat(fixture.table("berth")).hasSize(3);
    assertThat(ChangelogFixture.reasons(fixture.read())).isEmpty();
    ChangelogFixture set = fixture().xml(body).parameter("database.defaultSchemaName", "port");
    assertThat(set.table("berth")).hasSize(3);
    assertThat(set.read().schema().tables())
        .singleElement()
        .satisfies(table -> assertThat(table.schemaName()).contains(new Identifier("port")));
  }

  @Test
  void runs_roots_one_after_another() {
    String text =
        ChangelogFixture.wrap(
            ChangelogFixture.changeSet("1", "context='one'", ChangelogFixture.createTable("one"))
                + ChangelogFixture.changeSet(
                    "2", "context='two'", ChangelogFixture.createTable("two"))
                + ChangelogFixture.changeSet("3", "", ChangelogFixture.createTable("both")));
    ChangelogFixture fixture =
        fixture().file("a.xml", text).root("a.xml", "one", null).root("a.xml", "two", null);
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(ChangelogFixture.names(result.schema())).containsExactly("both", "one", "two");
  }

  @Test
  void logical_file_path_makes_two_files_one() {
    String text =
        "<databaseChangeLog logicalFilePath='same'>"
            + ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("berth"))
            + "</databaseChangeLog>";
    ChangelogFixture fixture =
        fixture().file("a.xml", text).file("b.xml", text).root("a.xml").root("b.xml");
    assertThat(ChangelogFixture.reasons(fixture.read())).isEmpty();
  }

  @Test
  void reads_from_a_jar() throws Exception {
    Path jar = directory.resolve("other.jar");
    try (java.util.zip.ZipOutputStream out =
        new java.util.zip.ZipOutputStream(java.nio.file.Files.newOutputStream(jar))) {
      out.putNextEntry(new java.util.zip.ZipEntry("db/in-jar.xml"));
      out.write(
          ChangelogFixture.wrap(
                  ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("berth")))
              .getBytes(java.nio.charset.StandardCharsets.UTF_8));
    }
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                Dialects.postgresql(),
                directory,
                List.of(directory.resolve("missing"), directory, jar),
                List.of(ChangelogInput.RootChangelog.of("classpath:/db/in-jar.xml")),
                java.util.Map.of()));
    assertThat(result.schema().tables())
        .extracting(table -> table.location().toString())
        .containsExactly("other.jar!/db/in-jar.xml:3");
  }

  @Test
  void modified_sql_is_read_as_it_is_sent() {
    String body =
        """
        <changeSet id="1" author="harbour">
          <createTable tableName="berth">
            <column name="id" type="int"/><column name="code" type="int"/>
          </createTable>
          <sql>
            create index a on berth (id);
            create index b on berth (code)
          </sql>
          <sqlFile path="more.sql"/>
          <modifySql dbms="postgresql"><append value=" where code > 1"/></modifySql>
          <modifySql dbms="h2"><append value=" where code > 2"/></modifySql>
          <modifySql><replace replace="index c" with="unique index d"/></modifySql>
        </changeSet>
        """;
    ChangelogFixture fixture = fixture().file("more.sql", "create index c on berth (id, code);");
    assertThat(fixture.xml(body).table("berth"))
        .contains(
            "index a(id) where code > 1 create-index 8",
            "index b(code) where code > 1 create-index 9",
            "unique d(id, code) where code > 1 create-index 1");
  }

  @Test
  void places_are_found_behind_parameters_and_comments() {
    String script =
        """
        --liquibase formatted sql

        --changeset harbour:1 stripComments:true
        -- a comment
        create table ${port}_berth (id int, code int); -- behind it

        /* several
           lines */
        create index ${port}_one on ${port}_berth (id);
        create index ${port}_two
           on ${port}_berth (code);

        -- changeset harbour:2
        --comment: the next one
        create index three on ${port}_berth (code, id);
        create index four on ${port}_berth (code desc);
        --rollback drop index three;
        """;
    ChangelogResult result =
        fixture().file("a.sql", script).root("a.sql").parameter("port", "north").read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(result.schema().tables().iterator().next().indexes())
        .extracting(index -> index.name() + " " + index.location())
        .containsExactly(
            "four a.sql:16", "north_one a.sql:9", "north_two a.sql:10", "three a.sql:15");
  }

  @Test
  void included_formats_that_are_not_read_are_listed() {
    ChangelogResult result =
        fixture()
            .file("a.groovy", "databaseChangeLog {}")
            .xml(
                "<include file='a.groovy'/>"
                    + ChangelogFixture.changeSet("1", "", ChangelogFixture.createTable("berth")))
            .read();
    assertThat(ChangelogFixture.names(result.schema())).containsExactly("berth");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly("changelog.xml:3 include: format of a.groovy is not read");
  }

  @ParameterizedTest
  @ValueSource(strings = {"postgresql", "mssql", "hsqldb", "oracle"})
  void parameters_without_a_value_cost_no_table(String database) {
    String body =
        """
        <changeSet id="1" author="harbour">
          <createTable tableName="${prefix}berth" schemaName="${schema}">
            <column name="id" type="${uuid_type}"><constraints primaryKey="true"/></column>
            <column name="name" type="${text.type}(40)"/>
          </createTable>
          <createIndex tableName="${prefix}berth" schemaName="${schema}" indexName="${prefix}ix">
            <column name="name"/>
          </createIndex>
          <insert tableName="${prefix}berth" schemaName="${schema}">
            <column name="name" value="Dear ${master}, welcome"/>
          </insert>
          <sql>create index other on ${prefix}berth (name, id)</sql>
        </changeSet>
        """;
    ChangelogResult result =
        fixture().xml(body).database(Dialects.byShortName(database).orElseThrow()).read();
    assertThat(result.schema().tables()).hasSize(1);
    assertThat(result.schema().tables().iterator().next().indexes())
        .extracting(index -> index.name().folded())
        .hasSize(3)
        .contains("ix", "other");
    assertThat(ChangelogFixture.reasons(result))
        .extracting(line -> line.substring(0, line.indexOf(" has no value")))
        .containsExactlyInAnyOrder(
            "changelog.xml:4 parameter prefix",
            "changelog.xml:4 parameter schema",
            "changelog.xml:5 parameter uuid_type",
            "changelog.xml:6 parameter text.type");
  }

  @Test
  void comments_that_a_database_would_run_count_unless_they_are_stripped() {
    String script =
        """
        --liquibase formatted sql
        --changeset harbour:1
        create table berth (id int, code int);
        /*!50100 create index stripped on berth (id) */;
        --changeset harbour:2 stripComments:false
        /*!50100 create index kept on berth (id) */;
        create index last on berth (code);
        """;
    ChangelogResult result =
        fixture().file("a.sql", script).root("a.sql").database(Dialects.mysql()).read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(result.schema().tables().iterator().next().indexes())
        .extracting(index -> index.name() + " " + index.location().line())
        .containsExactly("kept 6", "last 7");
  }
}
