package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
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

  private static String table(String name) {
    return "<createTable tableName='" + name + "'><column name='id' type='int'/></createTable>";
  }

  private static String changeSet(String id, String attributes, String body) {
    return "<changeSet id='"
        + id
        + "' author='harbour' "
        + attributes
        + ">"
        + body
        + "</changeSet>";
  }

  private static List<String> names(Schema schema) {
    return schema.tables().stream().map(table -> table.name().text()).toList();
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
                    changeSet("1", attributes == null ? "" : attributes, table("berth"))))
            .root("a.xml", contexts, labels);
    assertThat(names(fixture.read().schema())).isEqualTo(runs ? List.of("berth") : List.of());
  }

  @Test
  void include_hands_contexts_and_ignore_down() {
    String included = ChangelogFixture.wrap(changeSet("1", "", table("berth")));
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
    assertThat(names(fixture.read().schema())).containsExactly("tide");
  }

  @Test
  void finds_included_files() {
    ChangelogFixture fixture =
        fixture()
            .file("db/a/one.xml", ChangelogFixture.wrap(changeSet("1", "", table("one"))))
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
            .file("all/1.xml", ChangelogFixture.wrap(changeSet("3", "", table("all1"))))
            .file("all/deep/3.sql", "create table all3 (id int references all2);")
            .file("all/readme.txt", "not a changelog")
            .xml(
                "<include file='classpath:db/a/b/two.yaml'/>"
                    + "<includeAll path='all' maxDepth='2'/>");
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(names(result.schema())).containsExactly("all1", "all2", "all3", "one", "three");
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
    assertThat(names(fixture.database(Dialects.h2()).read().schema())).containsExactly("h2_berth");
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
            + changeSet(
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
              .xml(before + changeSet("1", "", preconditions.formatted(onFail) + table("tide")))
              .read();
      assertThat(names(result.schema()).contains("tide")).isEqualTo(holds || onFail.equals("WARN"));
      assertThat(ChangelogFixture.reasons(result)).hasSize(holds || !onFail.equals("HALT") ? 0 : 1);
    }
  }

  private static final String UNKNOWN =
      "<preConditions onFail='MARK_RAN'><sqlCheck expectedResult='0'>select 0"
          + "</sqlCheck></preConditions>";

  @Test
  void unknown_preconditions_run_and_are_listed() {
    ChangelogResult result = fixture().xml(changeSet("1", "", UNKNOWN + table("berth"))).read();
    assertThat(names(result.schema())).containsExactly("berth");
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
                changeSet("1", "", UNKNOWN + table("berth"))
                    + changeSet("2", "", UNKNOWN + table("quay"))
                    + changeSet("3", "", UNKNOWN + table("tide"))
                    + changeSet("4", "", table("pilot")))
            .holds("1::harbour", true)
            .holds("2::harbour", false)
            .holds("3::harbour", true)
            .holds("changelog.xml::3::harbour", false)
            .holds("4::harbour", false)
            .read();
    assertThat(names(result.schema())).containsExactly("berth", "pilot");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly(
            "pom.xml:1 preconditionResults: nothing in the changelogs waits for \"3::harbour\"",
            "pom.xml:1 preconditionResults: nothing in the changelogs waits for \"4::harbour\"");
  }

  @Test
  void runs_roots_one_after_another() {
    String text =
        ChangelogFixture.wrap(
            changeSet("1", "context='one'", table("one"))
                + changeSet("2", "context='two'", table("two"))
                + changeSet("3", "", table("both")));
    ChangelogFixture fixture =
        fixture().file("a.xml", text).root("a.xml", "one", null).root("a.xml", "two", null);
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(names(result.schema())).containsExactly("both", "one", "two");
  }

  @Test
  void logical_file_path_makes_two_files_one() {
    String text =
        "<databaseChangeLog logicalFilePath='same'>"
            + changeSet("1", "", table("berth"))
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
          ChangelogFixture.wrap(changeSet("1", "", table("berth")))
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
            .xml("<include file='a.groovy'/>" + changeSet("1", "", table("berth")))
            .read();
    assertThat(names(result.schema())).containsExactly("berth");
    assertThat(ChangelogFixture.reasons(result))
        .containsExactly("changelog.xml:3 include: format of a.groovy is not read");
  }

  @Test
  void a_changelog_may_only_warn_of_its_preconditions() {
    String wrong = "<preConditions onFail='%s'><dbms type='oracle'/></preConditions>";
    String berth = changeSet("1", "", table("berth"));
    assertThat(ChangelogFixture.reasons(fixture().xml(wrong.formatted("WARN") + berth).read()))
        .isEmpty();
    assertThat(ChangelogFixture.reasons(fixture().xml(wrong.formatted("HALT") + berth).read()))
        .containsExactly(
            "changelog.xml:1 a precondition of the changelog fails: an update would stop; read on");
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
