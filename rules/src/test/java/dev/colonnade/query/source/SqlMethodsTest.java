package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Annotated mappers. The annotations are stand-ins under the real names with the attributes that
 * matter (mybatis 3.5).
 */
final class SqlMethodsTest {
  @TempDir Path base;

  private static List<String> mybatis() {
    List<String> sources = new ArrayList<>();
    for (String name : List.of("Select", "Insert", "Update", "Delete")) {
      sources.add(
          "package org.apache.ibatis.annotations; import java.lang.annotation.*;\n"
              + "@Retention(RetentionPolicy.RUNTIME) @Repeatable(NAME.List.class)\n"
                  .replace("NAME", name)
              + ("public @interface NAME { String[] value(); String databaseId() default \"\";"
                      + " @Retention(RetentionPolicy.RUNTIME) @interface List { NAME[] value(); } }")
                  .replace("NAME", name));
    }
    sources.add(
        """
        package org.apache.ibatis.annotations; import java.lang.annotation.*;
        @Retention(RetentionPolicy.RUNTIME)
        public @interface SelectProvider { Class<?> type(); String method(); }
        """);
    sources.add(
        """
        package org.apache.ibatis.annotations; import java.lang.annotation.*;
        @Retention(RetentionPolicy.RUNTIME)
        public @interface SelectKey { String[] statement(); }
        """);
    return sources;
  }

  private FoundQueries scan(String... sources) {
    return AnnotatedSql.scan(base, mybatis(), sources);
  }

  @Test
  void statements_of_mybatis_with_their_variants_and_places() {
    FoundQueries found =
        scan(
            """
            package port;
            import org.apache.ibatis.annotations.*;
            public interface BerthMapper {
              @Select({"select * from ${prefix}berth", "where depth >= #{depth}"})
              int deep(int depth);

              @Select("<script>select * from berth <where><if test='name != null'>name = #{name}</if></where></script>")
              int named(String name);

              @Insert("insert into berth (id, name) values (#{id}, #{name})")
              @SelectKey(statement = "select nextval('berth_seq')")
              int add(Object berth);

              @Delete(value = "delete from berth limit 1", databaseId = "mysql")
              @Delete("delete from berth")
              int clear();

              @Update(value = "update berth set a = 1", databaseId = "mysql")
              @Update(value = "update berth set a = 2", databaseId = "postgres")
              int change();
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, AnnotatedSql::flat, query -> query.location().toString())
        .containsExactly(
            tuple(
                "port.BerthMapper.add",
                "insert into berth (id, name) values (#{id}, #{name})",
                "src/main/java/port/BerthMapper.java:10"),
            tuple(
                "port.BerthMapper.add!selectKey",
                "select nextval('berth_seq')",
                "src/main/java/port/BerthMapper.java:11"),
            tuple(
                "port.BerthMapper.change",
                "update berth set a = 2",
                "src/main/java/port/BerthMapper.java:19"),
            tuple(
                "port.BerthMapper.clear",
                "delete from berth",
                "src/main/java/port/BerthMapper.java:15"),
            tuple(
                "port.BerthMapper.deep",
                "select * from port_berth where depth >= #{depth}",
                "src/main/java/port/BerthMapper.java:4"),
            tuple(
                "port.BerthMapper.named",
                "select * from berth WHERE name = #{name}",
                "src/main/java/port/BerthMapper.java:7"),
            tuple(
                "port.BerthMapper.named",
                "select * from berth",
                "src/main/java/port/BerthMapper.java:7"));
    assertThat(found.unanalysed()).isEmpty();
  }

  @Test
  void what_mybatis_is_not_told_in_the_annotation_is_an_entry() {
    FoundQueries found =
        scan(
            """
            package port;
            import org.apache.ibatis.annotations.*;
            public interface BerthMapper {
              @SelectProvider(type = Object.class, method = "sql") int provided();
              @Select("") int empty();
              @Select("<script>select 1 <if test='a'></script>") int broken();
              @Select("select * from ${table}") int open();
              @Select(value = "select 1", databaseId = "harbourdb") int elsewhere();
            }
            """);
    assertThat(found.queries()).isEmpty();
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple(
                "port.BerthMapper.broken",
                "the XML is not well formed: column 33 in line 1 of its text"),
            tuple(
                "port.BerthMapper.elsewhere", "which database is called 'harbourdb' is not known"),
            tuple("port.BerthMapper.empty", AnnotationTexts.NO_TEXT),
            tuple("port.BerthMapper.open", "what stands for ${table} is not known"),
            tuple("port.BerthMapper.provided", MybatisMethods.OWN_METHOD));
  }

  @Test
  void what_a_provider_puts_together_is_read() {
    FoundQueries found =
        scan(
            """
            package port;
            import org.apache.ibatis.annotations.*;
            public interface BerthMapper {
              @SelectProvider(type = BerthSql.class, method = "find") int find(String name);
              @SelectProvider(type = BerthSql.class, method = "") int list();
              @SelectProvider(type = BerthSql.class, method = "built") int built(Object sql);
            }
            """,
            """
            package port;
            public class BerthSql {
              private static final String FROM = " from berth";
              public String find(String name) {
                StringBuilder sql = new StringBuilder("select *").append(FROM);
                if (name != null) sql.append(" where name = #{name}");
                return sql.toString();
              }
              public static String list() {
                return "<script>select id" + FROM + "<where><if test='open'>open = 1</if></where></script>";
              }
              public String built(Object sql) { return sql.toString(); }
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, AnnotatedSql::flat)
        .containsExactly(
            tuple("port.BerthMapper.find", "select * from berth"),
            tuple("port.BerthMapper.find", "select * from berth where name = #{name}"),
            tuple("port.BerthMapper.list", "select id from berth WHERE open = 1"),
            tuple("port.BerthMapper.list", "select id from berth"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(tuple("port.BerthMapper.built", MybatisMethods.OWN_METHOD));
  }
}
