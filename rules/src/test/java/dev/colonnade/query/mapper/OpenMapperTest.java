package dev.colonnade.query.mapper;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Mapper statements parts of which only the running service knows: MyBatis puts the text of a
 * parameter or of its configuration where {@code ${name}} stands, and nothing for a null (MyBatis 3
 * reference, "String Substitution"; {@code TextSqlNode} for the null).
 */
final class OpenMapperTest {
  private static final TableNames TABLES =
      new TableNames(List.of("PORT_BERTH", "PORT_VESSEL", "PORT_TIDE", "PILOT"));

  @TempDir Path base;

  private MapperReading read(String statements) throws IOException {
    Path file = base.resolve("port.xml");
    Files.writeString(file, "<mapper namespace=\"port\">\n" + statements + "</mapper>\n");
    return new MapperReader(base, "postgresql", Map.of(), TABLES).read(List.of(file));
  }

  private static List<String> texts(MapperReading reading) {
    return reading.queries().stream()
        .map(it -> it.id() + ": " + Whitespace.collapse(it.sql()))
        .toList();
  }

  private static List<String> refused(MapperReading reading) {
    return reading.unanalysed().stream().map(it -> it.id() + ": " + it.reason()).toList();
  }

  private static List<String> notes(MapperReading reading) {
    return reading.notes().stream().map(it -> it.location() + ": " + it.reason()).toList();
  }

  @Test
  void a_part_of_a_pattern_is_a_value_and_a_part_of_a_name_is_not() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from port_berth where name like '%${name}%'</select>
            <select id="b">select * from port_berth where name like "%${name}%"</select>
            <select id="c">select * from port_berth where "${name}" = 1</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select * from port_berth where name like '%${name}%'",
            "port.b: select * from port_berth where name like \"%${name}%\"");
    assertThat(refused(reading)).containsExactly("port.c: what stands for ${name} is not known");
  }

  @Test
  void a_statement_that_is_passed_in_whole_is_counted_apart() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">${sql}</select>
            <select id="b"><if test="paged">${before}</if> ${sql} <if test="paged">limit #{n}</if></select>
            <select id="c"/>
            <select id="d">select * from ${table}</select>
            """);
    assertThat(reading.queries()).isEmpty();
    assertThat(reading.withoutText()).isEqualTo(3);
    assertThat(reading.notes())
        .extracting(it -> it.location().line(), NotUnderstood::reason)
        .containsExactly(
            tuple(2, "statement port.a is passed in as ${sql} at run time: its text is not known"),
            tuple(3, "statement port.b is passed in as ${sql} at run time: its text is not known"),
            tuple(4, "statement port.c has no text on this database"));
    assertThat(refused(reading)).containsExactly("port.d: what stands for ${table} is not known");
  }

  @Test
  void of_an_open_part_that_may_be_nothing_the_text_without_it_is_one_of_the_texts()
      throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from PORT_BERTH where closed = 0 ${params.dataScope}</select>
            <select id="b">${limitBefore} select ${distinct} b.* ${limitBetween}
              from PORT_BERTH b where b.name like #{name}${escape} ${limitAfter}</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select * from PORT_BERTH where closed = 0",
            "port.b: select b.* from PORT_BERTH b where b.name like #{name}");
    assertThat(refused(reading))
        .containsExactly(
            "port.a: what stands for ${params.dataScope} is not known",
            "port.b: what stands for ${limitBefore} is not known");
  }

  @Test
  void where_nothing_would_give_the_text_another_meaning_it_is_not_tried() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from ${table} b</select>
            <select id="b">select ${function}(length) from PORT_BERTH</select>
            <select id="c">select * from PORT_BERTH_${year}</select>
            <select id="d">select * from PORT_BERTH where ${condition} and a = 1</select>
            <select id="f">select * from PORT_BERTH where not ${negated} exists (select 1)</select>
            <update id="g">update PORT_BERTH set ${column} = 1</update>
            <select id="h">select * from PORT_BERTH b join ${other} v on v.id = b.id</select>
            """);
    assertThat(reading.queries()).isEmpty();
    assertThat(reading.unanalysed()).extracting(UnanalysedQuery::id).hasSize(7);
  }

  @Test
  void unknown_columns_that_are_selected_are_all_columns() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select ${ew.sqlSelect} from PORT_BERTH ${ew.customSqlSegment}</select>
            <select id="b">select id, ${columns} from PORT_BERTH where id = #{id}</select>
            <select id="c">select ${columns}, id from PORT_BERTH where id = #{id}</select>
            <select id="d">select distinct ${columns} from PORT_BERTH</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select * from PORT_BERTH",
            "port.b: select id, * from PORT_BERTH where id = #{id}",
            "port.c: select *, id from PORT_BERTH where id = #{id}",
            "port.d: select distinct * from PORT_BERTH");
    assertThat(reading.unanalysed()).hasSize(4);
  }

  @Test
  void several_statements_in_one_are_texts_of_their_own_and_calls_are_none() throws IOException {
    MapperReading reading =
        read(
            """
            <delete id="a">
              delete from PORT_BERTH where name = 'a;b' and id = #{id};
              delete from PILOT where id = #{id}; -- done; really
            </delete>
            <select id="b" statementType="CALLABLE">{call moor(#{id,mode=IN})}</select>
            <select id="c" statementType="CALLABLE">{ #{level,mode=OUT} = call tide(#{id}) }</select>
            <select id="d" statementType="CALLABLE">{:level = call tide(:id)}</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: delete from PORT_BERTH where name = 'a;b' and id = #{id}",
            "port.a: delete from PILOT where id = #{id}");
    assertThat(refused(reading)).isEmpty();
    assertThat(reading.withoutText()).isEqualTo(3);
    assertThat(notes(reading))
        .allMatch(
            it -> it.endsWith("calls a routine of the database: what that reads is not known"));
  }

  @Test
  void an_apostrophe_in_a_comment_opens_no_text() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from PILOT where id = #{id}
              -- it's so
              and name = 'x'
              ${params.dataScope}
            </select>
            """);
    assertThat(refused(reading))
        .containsExactly("port.a: what stands for ${params.dataScope} is not known");
    assertThat(texts(reading)).hasSize(1).first().asString().endsWith("and name = 'x'");
  }

  @Test
  void wildcards_beside_a_parameter_belong_to_it() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from PILOT where name like "%"#{name}"%"</select>
            <select id="b">select * from PILOT where name like '%' #{name} or name like #{name}'%'</select>
            <select id="c">select * from PILOT where name like concat('%', #{name}, '%')</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select * from PILOT where name like concat('%', #{name}, '%')",
            "port.b: select * from PILOT where name like concat('%', #{name}) or name like"
                + " concat(#{name}, '%')",
            "port.c: select * from PILOT where name like concat('%', #{name}, '%')");
    assertThat(reading.queries().get(0).text()).endsWith("like \"%\"#{name}\"%\"");
  }

  @Test
  void both_numbers_of_a_limit_are_values() throws IOException {
    MapperReading reading =
        read("<select id=\"a\">select * from PILOT limit ${(page - 1) * size}, ${size}</select>");
    assertThat(texts(reading))
        .containsExactly("port.a: select * from PILOT limit ${(page - 1) * size}, ${size}");
  }

  @Test
  void keys_of_a_map_are_texts() throws IOException {
    MapperReading reading =
        read(
            """
            <update id="a">update PILOT set
              <foreach collection="values.entrySet()" index="k" item="v" separator=",">${k} = #{v}</foreach>
            </update>
            """);
    assertThat(refused(reading))
        .containsExactly("port.a: what stands for ${values.entrySet()[].key} is not known");
  }

  @Test
  void a_star_for_all_columns_is_no_multiplication() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select b.* ${hint} from PORT_BERTH b</select>
            <select id="b">select * ${hint} from PORT_BERTH b</select>
            <select id="c">select * from PORT_BERTH b where b.length * ${factor} > 5</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select b.* from PORT_BERTH b",
            "port.b: select * from PORT_BERTH b",
            "port.c: select * from PORT_BERTH b where b.length * ${factor} > 5");
    assertThat(reading.unanalysed()).hasSize(2);
  }

  @Test
  void a_row_of_values_needs_no_table() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from PORT_BERTH b join (
              <foreach collection="kinds" index="kind" item="days" separator="union">
                select '${kind}' as kind, ${days} as days
              </foreach>) k on k.kind = b.kind</select>
            <select id="b">select ${column} as c from PORT_BERTH</select>
            """);
    assertThat(texts(reading)).hasSize(1).first().asString().contains("as days ) k on");
    assertThat(refused(reading)).containsExactly("port.b: what stands for ${column} is not known");
  }

  @Test
  void a_prefix_of_tables_is_taken_from_the_schema() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from ${prefix}BERTH b join ${prefix}VESSEL v on v.id = b.id</select>
            <delete id="b">delete from ${prefix}GONE</delete>
            <select id="c">select * from ${nothing}PILOT</select>
            <select id="d">select * from ${schema}.PILOT p</select>
            <select id="e">select * from ${other}UNHEARD</select>
            <select id="f">select ${other}.name from PILOT</select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: select * from port_BERTH b join port_VESSEL v on v.id = b.id",
            "port.b: delete from port_GONE",
            "port.c: select * from PILOT",
            "port.d: select * from PILOT p");
    assertThat(refused(reading))
        .containsExactly(
            "port.e: what stands for ${other} is not known",
            "port.f: what stands for ${other} is not known");
    assertThat(notes(reading))
        .containsExactly(
            "port.xml:1: what stands for ${nothing} is not known: it is taken for nothing, which"
                + " makes tables of the schema of 1 of the 1 names behind it",
            "port.xml:1: what stands for ${prefix} is not known: it is taken for 'port_', which"
                + " makes tables of the schema of 2 of the 3 names behind it");
  }

  @Test
  void a_fragment_named_with_an_unknown_part_is_looked_up_without_it() throws IOException {
    MapperReading reading =
        read(
            """
            <sql id="open">closed is null</sql>
            <select id="a">select * from PILOT where <include refid="open${suffix}"/></select>
            <select id="b">select * from PILOT where <include refid="gone${suffix}"/></select>
            """);
    assertThat(texts(reading)).containsExactly("port.a: select * from PILOT where closed is null");
    assertThat(refused(reading))
        .containsExactly(
            "port.b: no mapper file holds the fragment 'gone${suffix}' that is included");
    assertThat(notes(reading))
        .containsExactly(
            "port.xml:1: the fragment 'open${suffix}' that is included is taken for 'open'");
  }

  @Test
  void statements_that_are_other_databases_by_their_names_are_left_out() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="find">select 1 from PILOT</select>
            <select id="find_mssql_or_db2">select top 1 1 from PILOT</select>
            <select id="find_postgres">select 2 from PILOT</select>
            <select id="take">select 8 from PILOT</select>
            <select id="take_mysql">select 9 from PILOT</select>
            <select id="only_oracle">select 3 from PILOT</select>
            <select id="find_or_mooring">select 4 from PILOT</select>
            <select id="dated" databaseId="dameng">select 5 from PILOT</select>
            <select id="dated">select 6 from PILOT</select>
            <select id="strange" databaseId="dameng">select 7 from PILOT</select>
            """);
    assertThat(reading.queries())
        .extracting(QueryText::id)
        .containsExactly(
            "port.find_postgres",
            "port.take",
            "port.only_oracle",
            "port.find_or_mooring",
            "port.dated");
    assertThat(refused(reading))
        .containsExactly("port.strange: which database is called 'dameng' is not known");
    assertThat(notes(reading))
        .containsExactly(
            "port.xml:2: by their names, 3 of its statements are other databases': the first is"
                + " find");
  }

  @Test
  void a_text_that_stops_in_the_middle_is_told_only_where_there_is_no_other() throws IOException {
    MapperReading reading =
        read(
            """
            <delete id="a">delete from PILOT where
              <foreach collection="list" item="i" index="n"><if test="n > 0">or</if> id = #{i}</foreach></delete>
            <delete id="b">delete from PILOT where id in</delete>
            <select id="c">select name from PILOT where <if test="id != null">id = #{id}</if>
              <if test="port != null">and port = #{port}</if> order by name</select>
            <select id="d">select name from PILOT <if test="by != null">order by
              <if test="by == 'name'">name</if> <if test="falling">desc</if></if></select>
            """);
    assertThat(texts(reading))
        .containsExactly(
            "port.a: delete from PILOT where id = #{i}",
            "port.b: delete from PILOT where id in",
            "port.c: select name from PILOT where id = #{id} and port = #{port} order by name",
            "port.c: select name from PILOT where id = #{id} order by name",
            "port.d: select name from PILOT order by name desc",
            "port.d: select name from PILOT",
            "port.d: select name from PILOT order by name");
  }
}
