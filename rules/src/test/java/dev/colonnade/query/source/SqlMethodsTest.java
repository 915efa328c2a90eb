package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Annotated mappers and SQL objects. The annotations are stand-ins under the real names with the
 * attributes that matter (mybatis 3.5, jdbi3-sqlobject 3).
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

  private static List<String> jdbi() {
    List<String> sources = new ArrayList<>();
    for (String name : List.of("SqlQuery", "SqlUpdate", "SqlBatch", "SqlScript")) {
      sources.add(annotation("statement", name, "String value() default \"\";"));
    }
    sources.add(annotation("locator", "UseClasspathSqlLocator", ""));
    sources.add(annotation("stringtemplate4", "UseStringTemplateSqlLocator", ""));
    sources.add(annotation("stringtemplate4", "UseStringTemplateEngine", ""));
    sources.add(annotation("freemarker", "UseFreemarkerEngine", ""));
    sources.add(annotation("customizer", "BindList", "String value();"));
    sources.add(
        annotation("customizer", "BindBeanList", "String value(); String[] propertyNames();"));
    return sources;
  }

  private static String annotation(String folder, String name, String members) {
    return "package org.jdbi.v3.sqlobject."
        + folder
        + "; import java.lang.annotation.*;\n"
        + "@Retention(RetentionPolicy.RUNTIME) public @interface "
        + name
        + " { "
        + members
        + " }";
  }

  private FoundQueries scan(List<String> library, String... sources) {
    List<String> all = new ArrayList<>(List.of(sources));
    all.addAll(library);
    CompiledService service = CompiledService.of(base, all.toArray(String[]::new));
    return SqlMethods.scan(
        new SqlMethods.Setting(
            base,
            List.of(service.classes(), base.resolve("src/main/resources")),
            List.of(service.sources()),
            List.of(),
            new MapperReader(base, "postgresql", Map.of("prefix", "port_")),
            new SqlTemplates("postgresql")),
        ClassFiles.read(base, service.classes()));
  }

  private void resource(String name, String text) throws IOException {
    Path file = base.resolve("src/main/resources").resolve(name);
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
  }

  private static String flat(QueryText query) {
    return query.sql().replaceAll("\\s+", " ");
  }

  @Test
  void statements_of_mybatis_with_their_variants_and_places() {
    FoundQueries found =
        scan(
            mybatis(),
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
        .extracting(QueryText::id, SqlMethodsTest::flat, query -> query.location().toString())
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
            mybatis(),
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
            mybatis(),
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
        .extracting(QueryText::id, SqlMethodsTest::flat)
        .containsExactly(
            tuple("port.BerthMapper.find", "select * from berth"),
            tuple("port.BerthMapper.find", "select * from berth where name = #{name}"),
            tuple("port.BerthMapper.list", "select id from berth WHERE open = 1"),
            tuple("port.BerthMapper.list", "select id from berth"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(tuple("port.BerthMapper.built", MybatisMethods.OWN_METHOD));
  }

  @Test
  void statements_of_jdbi_in_annotations() {
    FoundQueries found =
        scan(
            jdbi(),
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            import org.jdbi.v3.sqlobject.customizer.*;
            import org.jdbi.v3.sqlobject.stringtemplate4.*;
            public interface Berths {
              @SqlQuery("select * from berth where id in (<ids>) and a \\\\< 3")
              int some(@BindList("ids") int[] ids);

              @SqlBatch("insert into berth (id, name) values <rows>")
              int add(@BindBeanList(value = "rows", propertyNames = {"id", "name"}) Object[] rows);

              @UseStringTemplateEngine
              @SqlQuery("select * from berth <if(name)>where name = :name<else>where depth > :b.depth<endif>")
              int either(String name);

              @SqlUpdate("delete from <table>")
              int any(String table);

              @org.jdbi.v3.sqlobject.freemarker.UseFreemarkerEngine
              @SqlUpdate("delete from berth")
              int marked();

              @SqlScript("delete from berth; delete from vessel")
              int script();
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, SqlMethodsTest::flat, query -> query.location().line())
        .containsExactly(
            tuple("port.Berths.add", "insert into berth (id, name) values (:id, :name)", 9),
            tuple("port.Berths.either", "select * from berth where name = :name", 13),
            tuple("port.Berths.either", "select * from berth where depth > :b.depth", 13),
            tuple("port.Berths.script", "delete from berth", 23),
            tuple("port.Berths.script~2", "delete from vessel", 23),
            tuple("port.Berths.some", "select * from berth where id in (${ids}) and a < 3", 6));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.Berths.any", "what stands for ${table} is not known"),
            tuple(
                "port.Berths.marked",
                "its SQL is made by way of @UseFreemarkerEngine, which is not read"));
  }

  @Test
  void statements_of_jdbi_in_files() throws IOException {
    resource("port/Berths/all.sql", "select * from berth order by id\n");
    resource(
        "port/Bookings.sql.stg",
        """
        group Bookings;
        columns(t) ::= "<t>.id, <t>.berth"
        // where several ask for one berth
        find(name, depth) ::= <<
          select <columns("b")> from booking b
          <if(name && depth)>where name = :name and depth \\< :depth
          <elseif(name)>where name = :name
          <endif>
          order by b.id
        >>
        !!! nobody knows
        byIds(ids) ::= <% select <columns(t="k")> from booking k where k.id in (<ids; separator=",">) %>
        lost() ::= "select <nowhere()>"
        odd() ::= "select <first(rest(x))>"
        """);
    FoundQueries found =
        scan(
            jdbi(),
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            @org.jdbi.v3.sqlobject.locator.UseClasspathSqlLocator
            public interface Berths {
              @SqlQuery int all();
              @SqlQuery("none") int other();
            }
            """,
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            @org.jdbi.v3.sqlobject.stringtemplate4.UseStringTemplateSqlLocator
            public interface Bookings {
              @SqlQuery int find(String name, int depth);
              @SqlQuery int byIds(int[] ids);
              @SqlUpdate int lost();
              @SqlUpdate int odd();
              @SqlUpdate int absent();
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, SqlMethodsTest::flat)
        .containsExactly(
            tuple("port.Berths.all", "select * from berth order by id"),
            tuple(
                "port.Bookings.byIds",
                "select k.id, k.berth from booking k where k.id in (${ids})"),
            tuple(
                "port.Bookings.find",
                "select b.id, b.berth from booking b where name = :name and depth < :depth"
                    + " order by b.id"),
            tuple("port.Bookings.find", "select b.id, b.berth from booking b order by b.id"),
            tuple(
                "port.Bookings.find",
                "select b.id, b.berth from booking b where name = :name order by b.id"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(
            tuple("port.Berths.other", "there is no file port/Berths/none.sql with its SQL"),
            tuple(
                "port.Bookings.absent",
                "the group holds no template 'absent', line 1 of the template"),
            tuple(
                "port.Bookings.lost",
                "the group holds no template 'nowhere' that is included, line 13 of the template"),
            tuple(
                "port.Bookings.odd",
                "the group holds no template 'first' that is included, line 14 of the template"));
    assertThat(found.unreadable())
        .extracting(Object::toString)
        .singleElement()
        .asString()
        .contains("Bookings.sql.stg", "11", "not understood here");
  }

  @Test
  void a_group_beside_the_type_is_read_whatever_locates_it() throws IOException {
    resource(
        "port/Pilots.sql.stg",
        "group Pilots;\nfind(name) ::= <<select * from pilot where id = :id>>\n");
    FoundQueries found =
        scan(
            jdbi(),
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            public interface Pilots {
              @SqlQuery Object find(long id);
              @SqlQuery("select 1 from pilot") int count();
              @SqlQuery Object lost();
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, SqlMethodsTest::flat)
        .containsExactly(
            tuple("port.Pilots.count", "select 1 from pilot"),
            tuple("port.Pilots.find", "select * from pilot where id = :id"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("port.Pilots.lost");
  }

  /** The services that name a group above so have a loader of their own for it. */
  @Test
  void a_group_above_by_its_name_is_that_of_a_type_above() throws IOException {
    resource(
        "port/common/Common.sql.stg",
        "group Common;\nfind() ::= <<select * from <table()> >>\ntable() ::= \"none\"\n");
    resource("port/Sluices.sql.stg", "group Sluices: Common;\ntable() ::= \"sluice\"\n");
    FoundQueries found =
        scan(
            jdbi(),
            """
            package port.common;
            import org.jdbi.v3.sqlobject.statement.*;
            public interface Common { @SqlQuery Object find(); }
            """,
            "package port; interface Between extends port.common.Common {}",
            "package port; interface Sluices extends Between {}");
    assertThat(found.queries())
        .extracting(QueryText::id, SqlMethodsTest::flat)
        .containsExactly(tuple("port.Sluices.find", "select * from sluice"));
    assertThat(found.unreadable()).isEmpty();
  }

  @Test
  void groups_import_each_other_and_what_is_missing_is_an_entry() throws IOException {
    resource(
        "port/Tides.sql.stg", "import \"Missing.stg\"\nall() ::= <<select * from <table()> >>\n");
    resource(
        "port/Locks.sql.stg",
        """
        group Locks : Base;
        all() ::= <<select * from <table()> <order()> >>
        table() ::= "lock"
        """);
    resource(
        "port/Base.stg",
        "group Base : Locks;\norder() ::= \"order by id\"\ntable() ::= \"none\"\n");
    FoundQueries found =
        scan(
            jdbi(),
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            public interface Tides { @SqlQuery Object all(); }
            """,
            """
            package port;
            import org.jdbi.v3.sqlobject.statement.*;
            public interface Locks { @SqlQuery Object all(); }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id, SqlMethodsTest::flat)
        .containsExactly(tuple("port.Locks.all", "select * from lock order by id"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("port.Tides.all");
    assertThat(found.unreadable())
        .extracting(it -> it.location().line(), it -> it.reason())
        .containsExactly(tuple(1, "there is no template group Missing.stg to import"));
  }
}
