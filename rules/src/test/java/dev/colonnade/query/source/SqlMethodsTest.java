package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Mappers of MyBatis ("Mapper Annotations" of its Java API page) and SQL objects of Jdbi (its
 * developer guide). The annotations are stand-ins under the real names with the attributes that
 * matter.
 */
final class SqlMethodsTest {
  private static final String SELECT = annotation("org.apache.ibatis.annotations", "Select");
  private static final String UPDATE = annotation("org.apache.ibatis.annotations", "Update");
  private static final String PROVIDER =
      """
      package org.apache.ibatis.annotations;
      import java.lang.annotation.*;
      @Retention(RetentionPolicy.RUNTIME)
      public @interface DeleteProvider { Class<?> type(); String method(); }
      """;
  private static final String SQL_QUERY =
      """
      package org.jdbi.v3.sqlobject.statement;
      import java.lang.annotation.*;
      @Retention(RetentionPolicy.RUNTIME)
      public @interface SqlQuery { String value() default ""; }
      """;
  private static final String FILES =
      """
      package org.jdbi.v3.sqlobject.locator;
      import java.lang.annotation.*;
      @Retention(RetentionPolicy.RUNTIME)
      public @interface UseClasspathSqlLocator {}
      """;
  private static final String GROUPS =
      """
      package org.jdbi.v3.stringtemplate4;
      import java.lang.annotation.*;
      @Retention(RetentionPolicy.RUNTIME)
      public @interface UseStringTemplateSqlLocator {}
      """;

  @TempDir private Path base;

  @Test
  void mappers_hold_statements_and_scripts() {
    FoundQueries found =
        scan(
            "postgresql",
            SELECT,
            UPDATE,
            PROVIDER,
            """
            package org.example.harbour;
            import org.apache.ibatis.annotations.*;
            public interface Berths {
              @Select({"select id", "from berth where name = #{name}"})
              Object named(String name);

              @Select("<script>select id from berth <where>"
                  + "<if test='depth != null'>depth &gt; #{depth}</if></where></script>")
              Object deep(Integer depth);

              @Update(value = "update berth set depth = 1", databaseId = "oracle")
              @Select(value = "select 1", databaseId = "mysql")
              void elsewhere();

              @Select("select id from ${place}")
              Object open(String place);

              @DeleteProvider(type = String.class, method = "sql")
              void made();
            }
            """);

    assertThat(texts(found))
        .containsExactlyInAnyOrderEntriesOf(
            Map.of(
                "org.example.harbour.Berths.named", "select id from berth where name = #{name}",
                "org.example.harbour.Berths.deep#1", "select id from berth WHERE depth > #{depth}",
                "org.example.harbour.Berths.deep#2", "select id from berth"));
    assertThat(reasons(found))
        .containsExactlyInAnyOrderEntriesOf(
            Map.of(
                "org.example.harbour.Berths.made", "a method of the service makes its SQL",
                "org.example.harbour.Berths.open", "what stands for ${place} is not known"));
    assertThat(found.queries().get(2).location())
        .hasToString("src/main/java/org/example/harbour/Berths.java:4");
  }

  @Test
  void objects_hold_their_sql_or_name_it() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            SQL_QUERY,
            FILES,
            GROUPS,
            """
            package org.example.harbour;
            import org.jdbi.v3.sqlobject.statement.SqlQuery;
            public interface Tugs {
              @SqlQuery("select id from tug where power > :tug.power and name in (<names>)")
              Object strong(Object tug, Object names);

              @SqlQuery("select id from <table>")
              Object open(String table);
            }
            """,
            """
            package org.example.harbour;
            import org.jdbi.v3.sqlobject.locator.UseClasspathSqlLocator;
            import org.jdbi.v3.sqlobject.statement.SqlQuery;
            @UseClasspathSqlLocator
            public interface Pilots {
              @SqlQuery Object free();
              @SqlQuery("byName") Object named();
              @SqlQuery Object missing();
            }
            """,
            """
            package org.example.harbour;
            import org.jdbi.v3.sqlobject.statement.SqlQuery;
            import org.jdbi.v3.stringtemplate4.UseStringTemplateSqlLocator;
            @UseStringTemplateSqlLocator
            public interface Tides {
              @SqlQuery Object high();
              @SqlQuery Object odd();
            }
            """);
    write(service, "Pilots/free.sql", "select id from pilot where busy = false");
    write(service, "Pilots/byName.sql", "select id from pilot where name = :name");
    write(
        service,
        "Tides.sql.stg",
        """
        columns() ::= "id, height"
        <! kept short !>
        high(recent) ::= <<
          select <columns()> from tide where height \\> :height <if(recent)>and day = :day<endif>
        >>
        odd(names) ::= <<select <names:{n | <n>}> from tide>>
        """);

    FoundQueries found = scan("postgresql", service);

    assertThat(texts(found))
        .containsExactlyInAnyOrderEntriesOf(
            Map.of(
                "org.example.harbour.Tugs.strong",
                "select id from tug where power > :tug.power and name in (${names})",
                "org.example.harbour.Pilots.free",
                "select id from pilot where busy = false",
                "org.example.harbour.Pilots.named",
                "select id from pilot where name = :name",
                "org.example.harbour.Tides.high#1",
                "select id, height from tide where height > :height and day = :day",
                "org.example.harbour.Tides.high#2",
                "select id, height from tide where height > :height"));
    assertThat(reasons(found))
        .containsExactlyInAnyOrderEntriesOf(
            Map.of(
                "org.example.harbour.Tugs.open",
                "what stands for ${table} is not known",
                "org.example.harbour.Pilots.missing",
                "there is no file org/example/harbour/Pilots/missing.sql with its SQL",
                "org.example.harbour.Tides.odd",
                "its template holds <names:, which is not understood"));
  }

  private static void write(CompiledService service, String file, String text) throws IOException {
    Path path = service.classes().resolve("org/example/harbour").resolve(file);
    Files.createDirectories(path.getParent());
    Files.writeString(path, text, StandardCharsets.UTF_8);
  }

  private FoundQueries scan(String database, String... sources) {
    return scan(database, CompiledService.of(base, sources));
  }

  private FoundQueries scan(String database, CompiledService service) {
    return SqlMethods.scan(
        service.classes(),
        base,
        List.of(service.sources()),
        List.of(),
        ClassFiles.read(base, service.classes()),
        new MapperReader(base, database, Map.of()));
  }

  private static Map<String, String> texts(FoundQueries found) {
    return found.queries().stream()
        .collect(
            Collectors.toMap(
                QueryText::id,
                query -> query.sql().replaceAll("\\s+", " ").strip(),
                (first, second) -> first,
                TreeMap::new));
  }

  private static Map<String, String> reasons(FoundQueries found) {
    return found.unanalysed().stream()
        .collect(Collectors.toMap(UnanalysedQuery::id, UnanalysedQuery::reason));
  }

  private static String annotation(String packageName, String name) {
    return """
        package %s;
        import java.lang.annotation.*;
        @Retention(RetentionPolicy.RUNTIME)
        public @interface %s { String[] value(); String databaseId() default ""; }
        """
        .formatted(packageName, name);
  }
}
