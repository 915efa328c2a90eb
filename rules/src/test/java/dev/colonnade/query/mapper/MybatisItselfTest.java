package dev.colonnade.query.mapper;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.QueryText;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.ibatis.builder.xml.XMLMapperBuilder;
import org.apache.ibatis.mapping.MappedStatement;
import org.apache.ibatis.session.Configuration;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * MyBatis itself (3.5) renders the same mapper files, for parameters that turn each condition on
 * and off: what it renders is among our variants, and each of our variants is rendered. Texts are
 * compared as a whole, with one sign for every value.
 */
final class MybatisItselfTest {
  private static final Pattern SPACE = Pattern.compile("\\s+");
  private static final Pattern VALUE = Pattern.compile("#\\{[^}]*}");
  private static final String HEAD =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE mapper PUBLIC "-//mybatis.org//DTD Mapper 3.0//EN" "http://mybatis.org/dtd/mybatis-3-mapper.dtd">
      <mapper namespace="%s">
      """;

  /** The parts that other files include. */
  private static final String SHARED =
      """
      <sql id="columns">${alias}.id, ${alias}.name</sql>
      <sql id="page"><if test="limit != null">limit #{limit} offset #{offset}</if></sql>
      <sql id="now" databaseId="mysql">sysdate()</sql>
      <sql id="now">current_timestamp</sql>
      <sql id="table">${prefix}berth</sql>
      <sql id="limit">limit 1</sql>
      <sql id="wide">select * from <include refid="shared.table"/> where <include refid="${part}"/> <include refid="limit"/></sql>
      """;

  private static final String STATEMENTS =
      """
      <sql id="own">depth >= #{depth}</sql>
      <sql id="nested"><include refid="shared.columns"><property name="alias" value="${to}"/></include></sql>
      <select id="plain">select * from berth where id = #{id,jdbcType=BIGINT}</select>
      <select id="crossFile">
        select <include refid="shared.columns"><property name="alias" value="b"/></include>
        from <include refid="shared.table"/> b
        where <include refid="own"/> <include refid="shared.page"/>
      </select>
      <select id="nestedInclude">
        select <include refid="nested"><property name="to" value="v"/></include> from vessel v
      </select>
      <select id="where">
        select * from berth
        <where>
          <if test="name != null and name != ''">and name = #{name}</if>
          <if test="depth != null">AND depth &gt;= #{depth}</if>
          <if test="quay != null">
            or quay = #{quay}
          </if>
        </where>
        order by name
      </select>
      <update id="set">
        update berth
        <set>
          <if test="name != null">name = #{name},</if>
          <if test="depth != null">depth = #{depth},</if>
          version = version + 1,
        </set>
        where id = #{id}
      </update>
      <select id="trim">
        select * from berth
        <trim prefix="where (" suffix=")" prefixOverrides="and |or " suffixOverrides=",|;">
          <if test="name != null">and name = #{name},</if>
          <if test="depth != null">or depth = #{depth};</if>
        </trim>
      </select>
      <insert id="insertTrim">
        insert into berth
        <trim prefix="(" suffix=")" suffixOverrides=",">
          id, <if test="name != null">name,</if><if test="depth != null">depth,</if>
        </trim>
        <trim prefix="values (" suffix=")" suffixOverrides=",">
          #{id}, <if test="name != null">#{name},</if><if test="depth != null">#{depth},</if>
        </trim>
      </insert>
      <select id="list">
        select * from berth where id in
        <foreach collection="some" item="it" open="(" separator="," close=")">#{it}</foreach>
        <if test="name != null">and name = #{name}</if>
      </select>
      <select id="listIfAny">
        select * from berth
        <where>
          <if test="ids != null and ids.size() > 0">
            id in <foreach collection="ids" item="it" open="(" separator="," close=")">#{it}</foreach>
          </if>
          <if test="flag">and active = 1</if>
        </where>
      </select>
      <insert id="rows">
        insert into berth (id, name) values
        <foreach collection="beans" item="b" separator=",">(#{b.id}, #{b.name})</foreach>
      </insert>
      <select id="choose">
        select * from booking
        <where>
          <choose>
            <when test="id != null">id = #{id}</when>
            <when test="name != null and depth != null">name = #{name} and depth = #{depth}</when>
            <otherwise>open = true</otherwise>
          </choose>
          <if test="quay != null">and quay = #{quay}</if>
        </where>
      </select>
      <select id="chooseOrder">
        select * from booking order by
        <choose>
          <when test="kind == 'arrival'">arrives_at</when>
          <when test="kind == 'leave'">leaves_at desc</when>
          <otherwise>id</otherwise>
        </choose>
      </select>
      <select id="bind">
        <bind name="level" value="depth"/>
        select * from berth
        <if test="name != null">
          <bind name="pattern" value="'%' + name + '%'"/>
          where name like #{pattern}
        </if>
        <if test="level != null">limit #{level}</if>
      </select>
      <select id="nestedIf">
        select * from berth b
        <if test="name != null">
          join quay q on q.id = b.quay
          <if test="depth != null">and q.depth = #{depth}</if>
        </if>
        where b.active = 1
        <if test="name == null">and b.quay is null</if>
      </select>
      <select id="database">
        select * from berth where at = <include refid="shared.now"/>
        <if test="_databaseId == 'postgresql'">for update skip locked</if>
        <if test="_databaseId == 'mysql'">for update</if>
      </select>
      <select id="other" databaseId="mysql">select 1 from dual</select>
      <select id="other" databaseId="postgresql">select 1</select>
      <select id="fallsBack">select 2</select>
      <select id="fallsBack" databaseId="oracle">select 2 from dual</select>
      <insert id="withKey">
        <selectKey keyProperty="id" order="BEFORE" resultType="long">select nextval('berth_seq')</selectKey>
        insert into berth (id, name) values (#{id}, #{name})
      </insert>
      <delete id="either">
        delete from berth where <if test="name != null or depth != null">(name = #{name} or depth = #{depth}) and</if> id = #{id}
      </delete>
      <select id="inserted">select * from berth where depth &lt; ${offset} and name = '${word}'
        <if test="name != null and name.trim() != ''">and quay = #{quay}</if></select>
      <select id="rowByRow">
        select * from berth where
        <foreach collection="beans" item="b" index="i" separator=" or ">
          (id = #{b.id} <if test="flag">and name = #{b.name}</if>)
        </foreach>
      </select>
      <select id="chooseInChoose">
        select * from berth
        <where>
          <choose>
            <when test="name != null">
              <choose>
                <when test="flag">upper(name) = #{name}</when>
                <otherwise>name = #{name}</otherwise>
              </choose>
            </when>
            <when test="ids != null and !ids.isEmpty()">
              id in <foreach item="it" collection="ids" open="(" close=")" separator=",">#{it}</foreach>
            </when>
          </choose>
          <if test="kind != null and kind.equals('leave')"> and leaves_at is not null </if>
        </where>
      </select>
      <select id="cdata"><![CDATA[ select * from berth where depth <= #{depth} and id <> #{id} ]]>
        <if test="!flag">and active = 0</if></select>
      <select id="negated">
        select * from berth <if test="not (name == null)">where name = #{name}</if>
      </select>
      <select id="numbers">
        select * from berth
        <if test="level == 1">where low = 1</if>
        <if test="level > 1">where high = 1</if>
      </select>
      <sql id="limit">limit 5</sql>
      <sql id="byName">name = #{name}</sql>
      <sql id="byDepth">depth = #{depth}</sql>
      <sql id="selected">
        select ${cols} from ${prefix}berth b where <include refid="${condition}"/>
      </sql>
      <select id="namedFragment">
        <include refid="selected">
          <property name="cols" value="b.id"/><property name="condition" value="byDepth"/>
        </include>
      </select>
      <select id="namedElsewhere">
        <include refid="shared.wide"><property name="part" value="port.byName"/></include>
      </select>
      <update id="cases">
        update berth
        <trim prefix="set" suffixOverrides=",">
          <trim prefix="name = case id" suffix="end,">
            <foreach collection="single" item="b">when #{b.id} then #{b.name}</foreach>
          </trim>
          <if test="flag"><trim prefix="depth = case" suffix="end,">when 1 = 1 then 0</trim></if>
        </trim>
        where id in <foreach collection="single" item="b" open="(" close=")" separator=", ">#{b.id}</foreach>
      </update>
      <select id="nestedLists">
        select * from berth where
        <foreach collection="groups" item="group" separator="or">
          <trim prefix="(" prefixOverrides="and" suffix=")">
            <foreach collection="group.rules" item="rule">and depth = #{rule.value}</foreach>
          </trim>
        </foreach>
      </select>
      <select id="words">
        select * from berth
        <where>
          <if test="name neq null and depth eq null">name = #{name}</if>
          <if test="kind == 'leave'.toString()">and leaves_at is null</if>
          <if test="ids.size gt 0 or flag">and open = 1</if>
        </where>
      </select>
      <select id="whole">
        select * from berth where id = #{_parameter.id} <if test="_parameter.flag">and open = 1</if>
      </select>
      <select id="comments">
        select * from berth -- it's a line
        where /* it's a block */ id = #{id} <!-- it's none -->
        <if test="flag">and name = 'it''s'</if>
      </select>
      <insert id="upsert">
        insert into berth (id, name) values (#{id}, #{name})
        on conflict (id) do update set name = excluded.name
        <if test="flag">where berth.depth &lt; excluded.depth</if>
      </insert>
      <select id="tree">
        with recursive t (id) as (
          select id from berth where id = #{id}
          <choose><when test="flag">union all</when><otherwise>union</otherwise></choose>
          select b.id from berth b join t on t.id = b.parent
        ) select * from t
      </select>
      <select id="untouched"><trim>select * from berth</trim><trim suffix="for update"> </trim></select>
      <select id="either2">
        select * from berth where 1 = 1
        <choose>
          <when test="quay != null and quay != ''">and quay = #{quay}</when>
          <when test="level == 2">and low = 1</when>
        </choose>
      </select>
      """;

  @TempDir Path base;

  @TestFactory
  Stream<DynamicTest> renders_the_same() throws Exception {
    Map<String, String> files = new TreeMap<>();
    files.put("port", String.format(Locale.ROOT, HEAD, "port") + STATEMENTS + "</mapper>");
    files.put("shared", String.format(Locale.ROOT, HEAD, "shared") + SHARED + "</mapper>");
    Map<String, Set<String>> ours = ours(files);
    Map<String, Set<String>> theirs = theirs(files);
    assertThat(theirs).hasSizeGreaterThan(24);
    assertThat(ours.keySet()).isEqualTo(theirs.keySet());
    return ours.keySet().stream()
        .map(
            id ->
                DynamicTest.dynamicTest(
                    id, () -> assertThat(ours.get(id)).isEqualTo(theirs.get(id))));
  }

  private Map<String, Set<String>> ours(Map<String, String> files) throws Exception {
    List<Path> paths = new ArrayList<>();
    for (Map.Entry<String, String> file : files.entrySet()) {
      paths.add(Files.writeString(base.resolve(file.getKey() + ".xml"), file.getValue()));
    }
    MapperReading reading =
        new MapperReader(base, "postgresql", Map.of("prefix", "port_")).read(paths);
    assertThat(reading.unanalysed()).isEmpty();
    assertThat(reading.notes()).isEmpty();
    return reading.queries().stream()
        .collect(
            Collectors.groupingBy(
                QueryText::id,
                TreeMap::new,
                Collectors.mapping(
                    MybatisItselfTest::text, Collectors.toCollection(TreeSet::new))));
  }

  private static String text(QueryText query) {
    // What MyBatis puts in as text, the test's parameters have as 0 and x.
    return flat(query.text().replace("${offset}", "0").replace("${word}", "x"));
  }

  private static String flat(String sql) {
    String even = SPACE.matcher(VALUE.matcher(sql).replaceAll("?")).replaceAll(" ").strip();
    // Where blanks stand around these signs nobody can tell.
    return even.replaceAll(" ?([(),]) ?", "$1");
  }

  private static Map<String, Set<String>> theirs(Map<String, String> files) {
    Configuration configuration = new Configuration();
    configuration.setDatabaseId("postgresql");
    Properties variables = new Properties();
    variables.setProperty("prefix", "port_");
    configuration.setVariables(variables);
    files.forEach(
        (name, text) ->
            new XMLMapperBuilder(
                    new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)),
                    configuration,
                    name,
                    configuration.getSqlFragments())
                .parse());
    // References to a file that is read later are resolved now.
    configuration.getMappedStatementNames();
    Map<String, Set<String>> texts = new TreeMap<>();
    for (Object each : (Collection<?>) configuration.getMappedStatements()) {
      if (each instanceof MappedStatement statement) {
        for (Map<String, Object> parameters : parameters()) {
          String sql = flat(statement.getBoundSql(parameters).getSql());
          texts.computeIfAbsent(statement.getId(), id -> new TreeSet<>()).add(sql);
        }
      }
    }
    return texts;
  }

  /** Every combination of what conditions ask about. */
  private static List<Map<String, Object>> parameters() {
    Map<String, List<Object>> choices = new LinkedHashMap<>();
    choices.put("id", Arrays.asList(null, 1L));
    choices.put("name", Arrays.asList(null, "x"));
    choices.put("depth", Arrays.asList(null, 7));
    choices.put("quay", Arrays.asList(null, "q"));
    choices.put("limit", Arrays.asList(null, 10));
    choices.put("flag", List.of(false, true));
    choices.put("kind", Arrays.asList(null, "arrival", "leave"));
    choices.put("level", List.of(0, 1, 2));
    choices.put("ids", List.of(List.of(), List.of(1L, 2L)));
    List<Map<String, Object>> all = List.of(new HashMap<>());
    for (Map.Entry<String, List<Object>> choice : choices.entrySet()) {
      List<Map<String, Object>> longer = new ArrayList<>();
      for (Map<String, Object> one : all) {
        for (Object value : choice.getValue()) {
          Map<String, Object> more = new HashMap<>(one);
          more.put(choice.getKey(), value);
          longer.add(more);
        }
      }
      all = longer;
    }
    all.forEach(
        it -> {
          it.put("offset", 0);
          it.put("word", "x");
          it.put("some", List.of(1L, 2L));
          Map<String, Object> rules = Map.of("rules", List.of(Map.of("value", 1)));
          it.put("single", List.of(Map.of("id", 1, "name", "a")));
          it.put("groups", List.of(rules, rules));
          it.put("beans", List.of(Map.of("id", 1, "name", "a"), Map.of("id", 2, "name", "b")));
        });
    return all;
  }
}
