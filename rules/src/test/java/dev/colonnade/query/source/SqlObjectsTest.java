package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * SQL objects. The annotations are stand-ins under the real names with the attributes that matter
 * (jdbi3-sqlobject 3).
 */
final class SqlObjectsTest {
  @TempDir Path base;

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

  private FoundQueries scan(String... sources) {
    return AnnotatedSql.scan(base, jdbi(), sources);
  }

  private void resource(String name, String text) throws IOException {
    Path file = base.resolve("src/main/resources").resolve(name);
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
  }

  @Test
  void statements_of_jdbi_in_annotations() {
    FoundQueries found =
        scan(
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
        .extracting(QueryText::id, AnnotatedSql::flat, query -> query.location().line())
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
        .extracting(QueryText::id, AnnotatedSql::flat)
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
        .extracting(QueryText::id, AnnotatedSql::flat)
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
            """
            package port.common;
            import org.jdbi.v3.sqlobject.statement.*;
            public interface Common { @SqlQuery Object find(); }
            """,
            "package port; interface Between extends port.common.Common {}",
            "package port; interface Sluices extends Between {}");
    assertThat(found.queries())
        .extracting(QueryText::id, AnnotatedSql::flat)
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
        .extracting(QueryText::id, AnnotatedSql::flat)
        .containsExactly(tuple("port.Locks.all", "select * from lock order by id"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("port.Tides.all");
    assertThat(found.unreadable())
        .extracting(it -> it.location().line(), it -> it.reason())
        .containsExactly(tuple(1, "there is no template group Missing.stg to import"));
  }
}
