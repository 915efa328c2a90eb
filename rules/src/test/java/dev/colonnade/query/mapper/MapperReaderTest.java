package dev.colonnade.query.mapper;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class MapperReaderTest {
  private static final String HEAD =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE mapper PUBLIC "-//mybatis.org//DTD Mapper 3.0//EN" "http://mybatis.org/dtd/mybatis-3-mapper.dtd">
      <mapper namespace="port">
      """;

  @TempDir Path base;

  private MapperReading read(String statements) throws IOException {
    return read(Map.of(), statements);
  }

  private MapperReading read(Map<String, String> properties, String statements) throws IOException {
    Path file = base.resolve("port.xml");
    Files.writeString(file, HEAD + statements + "</mapper>\n");
    return new MapperReader(base, "postgresql", properties).read(List.of(file));
  }

  private static Map<String, String> texts(MapperReading reading) {
    assertThat(reading.unanalysed()).isEmpty();
    return numbered(reading).stream()
        .collect(
            Collectors.toMap(
                Map.Entry::getKey, entry -> Whitespace.collapse(entry.getValue().sql())));
  }

  /** The texts in order; where one statement has several, with numbers behind its id. */
  static List<Map.Entry<String, QueryText>> numbered(MapperReading reading) {
    Map<String, Long> texts =
        reading.queries().stream()
            .collect(Collectors.groupingBy(QueryText::id, Collectors.counting()));
    Map<String, Integer> seen = new HashMap<>();
    return reading.queries().stream()
        .map(
            text -> {
              int number = seen.merge(text.id(), 1, Integer::sum);
              String suffix = texts.get(text.id()) > 1 ? "#" + number : "";
              return Map.entry(text.id() + suffix, text);
            })
        .toList();
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
    assertThat(texts(reading))
        .containsExactly(Map.entry("port.byDepth", "select * from berth where depth >= #{depth}"));
    assertThat(reading.queries().get(0).location()).hasToString("port.xml:6");
    assertThat(reading.notes()).isEmpty();
  }

  @Test
  void each_optional_part_is_there_and_not_there() throws IOException {
    assertThat(
            texts(
                read(
                    """
                    <select id="find">
                      select * from berth
                      <where>
                        <if test="name != null">name = #{name}</if>
                        <if test="depth != null">and depth >= #{depth}</if>
                      </where>
                    </select>
                    """)))
        .containsOnly(
            Map.entry(
                "port.find#1", "select * from berth WHERE name = #{name} and depth >= #{depth}"),
            Map.entry("port.find#2", "select * from berth"),
            Map.entry("port.find#3", "select * from berth WHERE name = #{name}"),
            Map.entry("port.find#4", "select * from berth WHERE depth >= #{depth}"));
  }

  @Test
  void many_parts_are_taken_one_by_one() throws IOException {
    StringBuilder parts = new StringBuilder();
    for (int i = 0; i < 10; i++) {
      parts.append("<if test=\"c").append(i).append(" != null\">and c").append(i).append("=1</if>");
    }
    assertThat(
            texts(read("<select id=\"a\">select * from b <where>" + parts + "</where></select>")))
        .hasSize(12)
        .containsEntry("port.a#2", "select * from b")
        .containsEntry("port.a#12", "select * from b WHERE c9=1");
  }

  @Test
  void what_contradicts_itself_is_no_variant() throws IOException {
    assertThat(
            texts(
                read(
                    """
                    <select id="a">
                      select * from berth
                      <if test="name == null">where name is null</if>
                      <if test="name != null">where name = #{name}</if>
                    </select>
                    """)))
        .containsOnly(
            Map.entry("port.a#1", "select * from berth where name = #{name}"),
            Map.entry("port.a#2", "select * from berth where name is null"));
  }

  @Test
  void a_nested_part_brings_what_it_depends_on() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="a">
                          select * from berth b
                          <bind name="JOIN" value="false"/>
                          <if test="vessel != null"><bind name="JOIN" value="true"/></if>
                          <if test="JOIN">join booking k on k.berth = b.id</if>
                          where 1 = 1
                          <if test="vessel != null">and k.vessel = #{vessel}
                            <if test="day != null">and k.day = #{day}</if></if>
                        </select>
                        """))
                .values())
        .containsExactlyInAnyOrder(
            "select * from berth b join booking k on k.berth = b.id where 1 = 1 and k.vessel ="
                + " #{vessel} and k.day = #{day}",
            "select * from berth b where 1 = 1",
            "select * from berth b join booking k on k.berth = b.id where 1 = 1 and k.vessel ="
                + " #{vessel}");
  }

  @Test
  void every_branch_of_a_choice_is_a_variant() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="a">
                          select * from berth where
                          <choose>
                            <when test="kind == 'DEEP'">depth > 10</when>
                            <when test="kind == 'QUAY'">quay is not null</when>
                            <otherwise>depth > 0</otherwise>
                          </choose>
                        </select>
                        """))
                .values())
        .containsExactlyInAnyOrder(
            "select * from berth where depth > 10",
            "select * from berth where quay is not null",
            "select * from berth where depth > 0");
  }

  @Test
  void lists_have_several_elements_and_updates_set_something() throws IOException {
    assertThat(
            texts(
                read(
                    """
                    <update id="a">
                      update berth
                      <set><if test="depth != null">depth = #{depth},</if></set>
                      where id in
                      <foreach collection="ids" item="id" open="(" separator="," close=")">#{id}</foreach>
                    </update>
                    """)))
        .containsOnly(
            Map.entry("port.a", "update berth SET depth = #{depth} where id in ( #{id} , #{id} )"));
  }

  @Test
  void a_list_that_adds_whole_clauses_may_have_no_elements() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="find">
                          select * from berth b
                          <foreach collection="facilities" item="it" index="i">
                            join facility f${i} on f${i}.berth_id = b.id
                          </foreach>
                        </select>
                        """))
                .values())
        .containsExactlyInAnyOrder(
            "select * from berth b",
            "select * from berth b join facility f0 on f0.berth_id = b.id");
  }

  @Test
  void of_the_values_that_an_element_is_asked_about_it_has_one() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="find">
                          select * from berth where
                          <foreach collection="limits" item="it" separator="and">
                            depth
                            <if test="it.way == 'less'"><![CDATA[<]]></if>
                            <if test="it.way.equals('more')">></if>
                            #{it.depth}
                          </foreach>
                        </select>
                        """))
                .values())
        .containsExactlyInAnyOrder(
            "select * from berth where depth < #{it.depth} and depth < #{it.depth}",
            "select * from berth where depth > #{it.depth} and depth > #{it.depth}");
  }

  @Test
  void an_element_that_was_asked_before_whether_it_has_a_value_has_none_later() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="find">
                          select b.id from berth b
                          <bind name="joined" value="false"/>
                          <foreach collection="queries" item="it">
                            <if test="it.state != null"><bind name="joined" value="true"/></if>
                          </foreach>
                          <if test="joined">join closure c on c.berth_id = b.id</if>
                          <where>
                            <foreach collection="queries" item="it">
                              <if test="it.state == 'open'">and c.ended is null</if>
                              <if test="it.name != null">and b.name = #{it.name}</if>
                            </foreach>
                          </where>
                        </select>
                        """))
                .values())
        .as("no text asks for a closure that it does not join")
        .noneMatch(sql -> sql.contains("c.ended") && !sql.contains("join"))
        .anyMatch(sql -> sql.contains("c.ended"))
        .anyMatch(sql -> sql.contains("b.name") && !sql.contains("join"));
  }

  @Test
  void the_last_branch_of_a_choice_of_values_is_a_variant_too() throws IOException {
    assertThat(
            texts(
                    read(
                        """
                        <select id="find">
                          select * from berth where
                          <foreach collection="limits" item="it" separator="and">
                            depth
                            <choose>
                              <when test="it.way == 'less'"><![CDATA[<]]></when>
                              <when test="it.way == 'more'">></when>
                              <otherwise>=</otherwise>
                            </choose>
                            1
                            <if test="it.way != 'less'">+ 1</if>
                          </foreach>
                        </select>
                        """))
                .values())
        .containsExactlyInAnyOrder(
            "select * from berth where depth < 1 and depth < 1",
            "select * from berth where depth > 1 + 1 and depth > 1 + 1",
            "select * from berth where depth = 1 + 1 and depth = 1 + 1");
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
        HEAD
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
            texts(
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
        HEAD
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
  void more_variants_than_anybody_reads_are_left_out_and_that_is_said() throws IOException {
    StringBuilder parts = new StringBuilder();
    for (int i = 0; i < Variants.MOST_VARIANTS; i++) {
      parts.append("<if test=\"c").append(i).append("\">and c").append(i).append("=1</if>");
    }
    MapperReading reading =
        read("<select id=\"a\">select * from b <where>" + parts + "</where></select>");
    assertThat(reading.queries()).hasSize(Variants.MOST_VARIANTS);
    assertThat(reading.notes())
        .extracting(NotUnderstood::reason)
        .containsExactly("statement port.a can become more texts than the 64 that are looked at");
  }

  @Test
  void of_a_long_text_fewer_variants_are_looked_at() throws IOException {
    String columns = "c, ".repeat(Variants.MOST_CHARACTERS / 30) + "d";
    StringBuilder parts = new StringBuilder();
    for (int i = 0; i < 30; i++) {
      parts.append("<if test=\"c").append(i).append("\">and c").append(i).append("=1</if>");
    }
    MapperReading reading =
        read(
            "<select id=\"a\">select " + columns + " from b <where>" + parts + "</where></select>");
    assertThat(reading.queries()).hasSizeBetween(Variants.LEAST_VARIANTS, 11);
    assertThat(reading.notes())
        .extracting(NotUnderstood::reason)
        .containsExactly(
            "statement port.a can become more texts than the "
                + reading.queries().size()
                + " that are looked at");
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
    assertThat(texts(reading))
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
