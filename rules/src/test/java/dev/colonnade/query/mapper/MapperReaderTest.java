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

final class MapperReaderTest {
  @TempDir Path base;

  private MapperReading read(String statements) throws IOException {
    return MapperTexts.read(base, statements);
  }

  @Test
  void a_static_statement_is_one_text_with_its_place() throws IOException {
    MapperReading reading =
        read(
            """
              <cache/>
              <resultMap id="berth" type="Berth"><id column="id" property="id"/></resultMap>
              <select id="byDepth"
                  resultMap="berth">
                select * from berth where depth <![CDATA[ >= ]]> #{depth}
              </select>
            """);
    assertThat(MapperTexts.texts(reading))
        .containsExactly(Map.entry("port.byDepth", "select * from berth where depth >= #{depth}"));
    assertThat(reading.queries().get(0).location()).hasToString("port.xml:6");
    assertThat(reading.notes()).isEmpty();
  }

  @Test
  void fragments_come_from_every_file_with_their_properties() throws IOException {
    Path other = base.resolve("other.xml");
    Files.writeString(
        other,
        """
        <mapper namespace="shared">
          <sql id="open">${alias}.closed is null <include refid="tide"/></sql>
          <sql id="tide">and ${alias}.tide = #{tide}</sql>
        </mapper>
        """);
    Path file = base.resolve("port.xml");
    Files.writeString(
        file,
        MapperTexts.HEAD
            + """
              <select id="a">select * from ${schema}.berth b where
                <include refid="shared.open"><property name="alias" value="b"/></include></select>
              <select id="b">select * from berth where <include refid="shared.gone"/></select>
            </mapper>
            """);
    MapperReading reading =
        new MapperReader(base, "postgresql", Map.of("schema", "harbour"))
            .read(List.of(file, other));
    assertThat(reading.queries())
        .extracting(QueryText::id, it -> Whitespace.collapse(it.sql()))
        .containsExactly(
            tuple(
                "port.a",
                "select * from harbour.berth b where b.closed is null and b.tide = #{tide}"));
    assertThat(reading.unanalysed())
        .extracting(UnanalysedQuery::id, it -> it.location().line(), UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.b", 6, "no mapper file holds the fragment 'shared.gone' that is included"));
  }

  @Test
  void files_of_one_namespace_include_their_own_fragments() throws IOException {
    List<Path> files = List.of(base.resolve("berths.xml"), base.resolve("moorings.xml"));
    String mapper =
        """
        <mapper namespace="${port}">
          <sql id="same">%s.id = #{id}</sql>
          <sql id="found">where <include refid="same"/></sql>
          <select id="find">select * from %s <include refid="found"/></select>
        </mapper>
        """;
    Files.writeString(files.get(0), String.format(mapper, "b", "berth b"));
    Files.writeString(files.get(1), String.format(mapper, "m", "mooring m"));
    MapperReading reading = new MapperReader(base, "postgresql", Map.of()).read(files);
    assertThat(reading.queries())
        .extracting(it -> Whitespace.collapse(it.sql()))
        .containsExactly(
            "select * from berth b where b.id = #{id}",
            "select * from mooring m where m.id = #{id}");
  }

  @Test
  void an_unknown_order_is_left_out_and_an_unknown_table_is_not_guessed() throws IOException {
    MapperReading reading =
        read(
            """
            <select id="a">select * from berth where a = ${a} order by ${column} ${way} limit 5</select>
            <select id="b">select * from ${table}</select>
            <select id="c">select * from berth where ${condition}</select>
            <select id="d">select * from berth where a = 1 ${q.orderByClause} limit 5</select>
            <select id="e">select * from ${orderBy}</select>
            """);
    assertThat(reading.queries())
        .extracting(it -> Whitespace.collapse(it.sql()))
        .containsExactly(
            "select * from berth where a = ${a} limit 5",
            "select * from berth where a = 1 limit 5");
    assertThat(reading.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.b", "what stands for ${table} is not known"),
            tuple("port.c", "what stands for ${condition} is not known"),
            tuple("port.e", "what stands for ${orderBy} is not known"));
  }

  @Test
  void the_statement_for_the_own_database_is_taken() throws IOException {
    assertThat(
            MapperTexts.texts(
                read(
                    """
                    <select id="a">select 1 from berth</select>
                    <select id="a" databaseId="postgres">select 2 from berth</select>
                    <select id="b" databaseId="oracle">select 3 from berth</select>
                    <select id="b">select 4 from berth
                      <if test="_databaseId == 'oracle'">for update</if></select>
                    <insert id="c">
                      <selectKey keyProperty="id" order="BEFORE" resultType="long">select max(id) from berth</selectKey>
                      insert into berth(id) values (#{id})
                    </insert>
                    """)))
        .containsOnly(
            Map.entry("port.a", "select 2 from berth"),
            Map.entry("port.b", "select 4 from berth"),
            Map.entry("port.c", "insert into berth(id) values (#{id})"),
            Map.entry("port.c!selectKey", "select max(id) from berth"));
  }

  @Test
  void what_is_broken_costs_nothing_but_itself() throws IOException {
    Path broken = base.resolve("broken.xml");
    Files.writeString(broken, "<mapper namespace=\"x\">\n  <select id=\"a\">select 1\n</mapper>\n");
    Path foreign = base.resolve("foreign.xml");
    Files.writeString(foreign, "<beans/>");
    Path file = base.resolve("port.xml");
    Files.writeString(
        file,
        MapperTexts.HEAD
            + """
              <query id="a">select 1</query>
              <select id="b">select <loop>1</loop></select>
              <select id="c">select 1 from berth</select>
              <sql id="d"><include refid="d"/></sql>
              <select id="d"><include refid="d"/></select>
            </mapper>
            """);
    MapperReading reading =
        new MapperReader(base, "postgresql", Map.of())
            .read(List.of(file, foreign, broken, base.resolve("gone.xml")));
    assertThat(reading.queries()).extracting(QueryText::id).containsExactly("port.c");
    assertThat(reading.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.b", "the element <loop> is not known"),
            tuple("port.d", "the includes or elements are nested too deeply"));
    assertThat(reading.notes()).extracting(NotUnderstood::toString).hasSize(4);
    assertThat(reading.notes())
        .extracting(it -> it.location().toString())
        .containsExactlyInAnyOrder("broken.xml:3", "foreign.xml:1", "gone.xml:1", "port.xml:4");
  }

  @Test
  void ids_that_are_taken_and_parts_that_are_missing_cost_nothing_but_themselves()
      throws IOException {
    MapperReading reading =
        read(
            """
              <select id="a" resultMap="nobodyWroteIt">select 1 from berth</select>
              <select id="a">select 2 from berth</select>
              <select id="b">select <include refid="columns"/> from berth</select>
              <select id="c">select <include/> from berth</select>
              <select id="d">select 4 from berth <if>where id = 1</if></select>
              <select>select 5 from berth</select>
            """);
    assertThat(reading.queries())
        .extracting(QueryText::id)
        .containsExactly("port.a", "port.a~2", "port.d", "port.d", "port.");
    assertThat(reading.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.b", "no mapper file holds the fragment 'columns' that is included"),
            tuple("port.c", "no mapper file holds the fragment '' that is included"));
  }

  @Test
  void a_script_of_an_annotation_has_the_same_parts() {
    MapperReading reading =
        new MapperReader(base, "postgresql", Map.of())
            .script(
                "port.Berths.find",
                dev.colonnade.location.SourceLocation.of("Berths.java", 7),
                "<script>select 1 from b <if test='a != null'>where a = #{a}</if></script>");
    assertThat(reading.queries())
        .extracting(QueryText::id, it -> Whitespace.collapse(it.sql()))
        .containsExactly(
            tuple("port.Berths.find", "select 1 from b where a = #{a}"),
            tuple("port.Berths.find", "select 1 from b"));
  }

  @Test
  void a_pattern_put_together_before_is_known_to_begin_with_a_wildcard() throws IOException {
    String sql = "select * from berth where name like #{pattern} and note = #{pattern}";
    MapperReading reading =
        read(
            """
            <select id="within"><bind name="pattern" value="'%%' + name + '%%'"/>%1$s</select>
            <select id="joined"><bind name="pattern" value="'%%'.concat(name).concat('%%')"/>%1$s</select>
            <select id="ends"><bind name="pattern" value='"%%" + name.trim()'/>%1$s</select>
            <select id="begins"><bind name="pattern" value="name + '%%'"/>%1$s</select>
            <select id="whole"><bind name="pattern" value="name"/>%1$s</select>
            <select id="either">
              <choose>
                <when test="anywhere"><bind name="pattern" value="'%%' + name + '%%'"/></when>
                <otherwise><bind name="pattern" value="name + '%%'"/></otherwise>
              </choose>
              %1$s
            </select>
            """
                .formatted(sql));
    assertThat(MapperTexts.texts(reading))
        .containsOnly(
            Map.entry("port.within", sql.replace("like #{pattern}", "like '%${name}%'")),
            Map.entry("port.joined", sql.replace("like #{pattern}", "like '%${name}%'")),
            Map.entry("port.ends", sql.replace("like #{pattern}", "like '%${name.trim()}'")),
            Map.entry("port.begins", sql),
            Map.entry("port.whole", sql),
            Map.entry("port.either", sql));
    assertThat(reading.queries()).extracting(QueryText::text).allMatch(sql::equals);
  }
}
