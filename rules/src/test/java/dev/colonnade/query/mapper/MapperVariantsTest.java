package dev.colonnade.query.mapper;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.NotUnderstood;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class MapperVariantsTest {
  @TempDir Path base;

  private MapperReading read(String statements) throws IOException {
    return MapperTexts.read(base, statements);
  }

  @Test
  void each_optional_part_is_there_and_not_there() throws IOException {
    assertThat(
            MapperTexts.texts(
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
            MapperTexts.texts(
                read("<select id=\"a\">select * from b <where>" + parts + "</where></select>")))
        .hasSize(12)
        .containsEntry("port.a#2", "select * from b")
        .containsEntry("port.a#12", "select * from b WHERE c9=1");
  }

  @Test
  void what_contradicts_itself_is_no_variant() throws IOException {
    assertThat(
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
            MapperTexts.texts(
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
}
