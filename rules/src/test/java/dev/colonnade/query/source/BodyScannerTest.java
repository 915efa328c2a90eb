package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Texts in compiled method bodies; javac itself folds and concatenates them. */
final class BodyScannerTest {
  private static final String BERTH =
      """
      package org.example.harbour;
      @jakarta.persistence.Entity
      public class Berth {
        @jakarta.persistence.Id Long id;
        String name;
        int depth;
      }
      """;

  @TempDir private Path base;

  @Test
  void constants_are_found_wherever_the_compiler_leaves_them() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            import org.springframework.jdbc.core.JdbcTemplate;
            public class Berths {
              static final String TABLE = "berth";
              static final String LATE = String.valueOf("select 5 from berth").trim();
              static final String BUILT = new StringBuilder("select 6 ").append("from berth").toString();
              JdbcTemplate jdbc;
              void literal() { jdbc.update("delete from berth where id = ?", 1); }
              void folded() { jdbc.update("delete from " + TABLE); }
              void elsewhere() { jdbc.update(Sql.LONG); }
              void local() { String sql = "select 1 from berth"; jdbc.queryForObject(sql, Long.class); }
              void block() {
                jdbc.update(
                    \"""
                    update berth
                    set depth = 1\""");
              }
              void builder() {
                StringBuilder sql = new StringBuilder();
                sql.append("select 2");
                sql.append(" from berth where depth > ").append(3);
                jdbc.queryForObject(sql.toString(), Long.class);
              }
              void named() { jdbc.update("delete from " + Berth.class.getSimpleName()); }
              void choice(boolean deep) {
                jdbc.update(deep ? "delete from berth where depth > 9" : "delete from berth where depth < 9");
              }
              void built() { jdbc.update(BUILT); }
              Runnable lambda() { return () -> jdbc.update("select 7 from berth"); }
            }
            """,
            """
            package org.example.harbour;
            interface Sql { String LONG = "select 4 " + "from berth"; }
            """);
    assertThat(found.queries())
        .extracting(query -> query.id() + ": " + query.sql())
        .containsExactly(
            "org.example.harbour.Berths.block: update berth\nset depth = 1",
            "org.example.harbour.Berths.builder: select 2 from berth where depth > 3",
            "org.example.harbour.Berths.built: select 6 from berth",
            "org.example.harbour.Berths.choice: delete from berth where depth < 9",
            "org.example.harbour.Berths.choice: delete from berth where depth > 9",
            "org.example.harbour.Berths.elsewhere: select 4 from berth",
            "org.example.harbour.Berths.folded: delete from berth",
            "org.example.harbour.Berths.lambda: select 7 from berth",
            "org.example.harbour.Berths.literal: delete from berth where id = ?",
            "org.example.harbour.Berths.local: select 1 from berth",
            "org.example.harbour.Berths.named: delete from Berth");
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.queries()).extracting(QueryText::source).containsOnly(QuerySource.METHOD_BODY);
    assertThat(found.queries().get(0).location())
        .hasToString("src/main/java/org/example/harbour/Berths.java:13");
  }

  @Test
  void what_is_put_together_at_run_time_is_named_with_its_line() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            import org.springframework.jdbc.core.JdbcTemplate;
            public class Berths {
              JdbcTemplate jdbc;
              void branch(boolean deep) {
                StringBuilder sql = new StringBuilder("select 1 from berth");
                if (deep) {
                  sql.append(" where depth > 9");
                }
                jdbc.update(sql.toString());
              }
              void value(int depth) { jdbc.update("delete from berth where depth = " + depth); }
              void given(StringBuilder sql) { jdbc.update(sql.append("x").toString()); }
              void changed() {
                StringBuilder sql = new StringBuilder("select 1 from berth");
                helper(sql);
                jdbc.update(sql.toString());
              }
              void helper(StringBuilder sql) { sql.setLength(0); }
              void loop() {
                String sql = "select 1 from berth";
                for (int i = 0; i < 9; i++) sql += " ";
                jdbc.update(sql);
              }
            }
            """);
    assertThat(found.queries())
        .extracting(query -> query.id().replaceAll(".*[.]", "") + ": " + query.sql())
        .containsExactly(
            "branch: select 1 from berth",
            "branch: select 1 from berth where depth > 9",
            "loop: select 1 from berth",
            "value: delete from berth where depth = ${text}");
    assertThat(found.unanalysed())
        .extracting(it -> it.id() + " " + it.location() + " " + it.reason())
        .containsExactly(entry("changed", 17), entry("given", 13));
  }

  private static String entry(String method, int line) {
    return "org.example.harbour.Berths."
        + method
        + " src/main/java/org/example/harbour/Berths.java:"
        + line
        + " text is built at run time in org.example.harbour.Berths:"
        + line;
  }

  @Test
  void texts_over_entities_are_translated_and_limited_where_the_call_says_so() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            import jakarta.persistence.EntityManager;
            import jakarta.persistence.Query;
            public class Berths {
              EntityManager em;
              Object all() { return em.createQuery("from Berth b where b.depth > :d").getResultList(); }
              Object few() {
                Query query = em.createQuery("select b.name from Berth b");
                query.setMaxResults(5);
                return query.getResultList();
              }
              Object named() { return em.createNamedQuery("Berth.all").getResultList(); }
              Object sql() { return em.createNativeQuery("select 1 from {h-schema}berth").getResultList(); }
              Object braces() { return em.createNativeQuery("select {b.*} from berth {b}").getResultList(); }
              Object wrong() { return em.createQuery("from Quay q").getResultList(); }
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::sql)
        .containsExactly(
            "select b.id, b.name, b.depth from Berth b where b.depth > :d",
            "select b.* from berth b",
            "select b.name from Berth b limit :pageSize offset :pageOffset",
            "select 1 from berth");
    assertThat(found.unanalysed())
        .singleElement()
        .satisfies(it -> assertThat(it.reason()).startsWith("Quay is no entity"));
  }

  @Test
  void methods_that_hand_a_text_on_are_looked_through() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            import jakarta.persistence.*;
            public abstract class Dao<T> {
              EntityManager em;
              protected Query query(int page, String text) { return em.createQuery(text); }
              protected java.util.List<?> list(String text) { return query(1, text).getResultList(); }
            }
            """,
            """
            package org.example.harbour;
            public class Berths extends Dao<Berth> {
              Object one() { return list("from Berth where id = 1"); }
              Object two(long id) { return query(2, "from Berth where id = " + id); }
            }
            """,
            """
            package org.example.harbour;
            public class Other {
              void query(int page, String text) {}
              void three() { query(3, "nothing"); }
            }
            """);
    assertThat(found.queries())
        .extracting(QueryText::id)
        .containsExactly("org.example.harbour.Berths.one", "org.example.harbour.Berths.two");
    assertThat(found.unanalysed()).isEmpty();
  }

  @Test
  void texts_that_lambdas_capture_are_read_where_they_are_made() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            import java.util.function.*;
            import org.springframework.jdbc.core.JdbcTemplate;
            public class Berths {
              JdbcTemplate jdbc;
              static <T> T run(Function<JdbcTemplate, T> work) { return null; }
              void sorted(boolean deep) {
                String sql = "select id from berth";
                if (deep) {
                  sql += " order by depth";
                }
                String text = sql;
                run(handle -> handle.update(text));
              }
              void nested(int pier) {
                String sql = String.valueOf("select 2 from berth where pier = ").concat("?");
                String other = String.valueOf("no query");
                Runnable outer = () -> run(handle -> jdbc.queryForObject(sql, Long.class) + other);
                run(handle -> other + pier);
              }
              void given(String text) { run(handle -> handle.update(text)); }
              void all() { given("delete from berth"); }
              void unknown(Supplier<String> text) {
                String sql = text.get();
                run(handle -> handle.update(sql));
              }
            }
            """);
    assertThat(found.queries())
        .extracting(query -> query.id() + ": " + query.sql() + " " + query.location().line())
        .containsExactly(
            "org.example.harbour.Berths.all: delete from berth 22",
            "org.example.harbour.Berths.nested: select 2 from berth where pier = ? 18",
            "org.example.harbour.Berths.sorted: select id from berth 13",
            "org.example.harbour.Berths.sorted: select id from berth order by depth 13");
    assertThat(found.unanalysed())
        .extracting(it -> it.id() + ": " + it.reason())
        .containsExactly(
            "org.example.harbour.Berths.unknown: text is built at run time in"
                + " org.example.harbour.Berths:25");
  }

  @Test
  void migrations_and_definitions_are_no_queries() {
    FoundQueries found =
        scan(
            """
            package org.example.harbour;
            public class V1 extends org.flywaydb.core.api.migration.BaseJavaMigration {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void migrate() { jdbc.update("delete from berth"); }
            }
            """,
            """
            package org.example.harbour;
            public class Start {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void start() { jdbc.execute("create table t (a int)"); jdbc.execute(" SET x = 1"); }
            }
            """);
    assertThat(found.queries()).isEmpty();
    assertThat(found.unanalysed()).isEmpty();
  }

  @Test
  void without_sources_the_class_file_is_named() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.example.harbour;
            public class Berths {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void all() { jdbc.update("delete from berth"); }
            }
            """);
    FoundQueries found = scan(service, List.of());
    assertThat(found.queries().get(0).location())
        .hasToString("target/classes/org/example/harbour/Berths.class:1");
  }

  /** A class file starts with a magic number and its version (JVM specification, 4.1). */
  @Test
  void a_class_of_a_future_java_and_one_cut_off_cost_only_themselves() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            BERTH,
            """
            package org.example.harbour;
            public class Berths {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void all() { jdbc.update("delete from berth"); }
            }
            """,
            """
            package org.example.harbour;
            public class Pilots {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void all() { jdbc.update("delete from pilot"); }
            }
            """);
    Path future = service.classes().resolve("org/example/harbour/Berths.class");
    byte[] bytes = Files.readAllBytes(future);
    bytes[7] = (byte) 250;
    Files.write(future, bytes);
    Path torn = service.classes().resolve("org/example/harbour/Berth.class");
    byte[] whole = Files.readAllBytes(torn);
    Files.write(torn, java.util.Arrays.copyOf(whole, whole.length / 2));
    Files.write(
        service.classes().resolve("org/example/harbour/Text.class"),
        "no class".getBytes(StandardCharsets.UTF_8));
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    FoundQueries found =
        new BodyScanner(service.base(), List.of(service.sources()))
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    assertThat(found.queries()).extracting(QueryText::sql).containsExactly("delete from pilot");
    assertThat(
            Stream.concat(classes.unreadable().stream(), found.unreadable().stream())
                .map(it -> it.location().file()))
        .containsExactlyInAnyOrder(
            "target/classes/org/example/harbour/Berths.class",
            "target/classes/org/example/harbour/Berth.class",
            "target/classes/org/example/harbour/Text.class");
  }

  private FoundQueries scan(String... sources) {
    String[] all = Stream.concat(Stream.of(BERTH), Stream.of(sources)).toArray(String[]::new);
    CompiledService service = CompiledService.of(base, all);
    return scan(service, List.of(service.sources()));
  }

  private static FoundQueries scan(CompiledService service, List<Path> sources) {
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    return new BodyScanner(service.base(), sources)
        .scan(classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
  }

  /** The methods of JDBI 2.78 that take a text, as its Javadoc has them. */
  @Test
  void texts_given_to_handles_of_jdbi_2_are_read() {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.skife.jdbi.v2;
            public interface Handle {
              Object createQuery(String sql);
              Object createStatement(String sql);
              java.util.List<Object> select(String sql, Object... values);
              int insert(String sql, Object... values);
              Batch createBatch();
            }
            """,
            "package org.skife.jdbi.v2; public interface Batch { Batch add(String sql); }",
            """
            package port;
            class Tides {
              void all(org.skife.jdbi.v2.Handle handle) {
                handle.createQuery("select * from tide");
                handle.createStatement("delete from tide");
                handle.select("select id from tide where port = ?", 1);
                handle.insert("insert into tide (id) values (?)", 1);
                handle.createBatch().add("update tide set height = 1");
              }
            }
            """);
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    assertThat(
            new BodyScanner(service.base(), List.of())
                .scan(classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "h2")
                .queries())
        .extracting(QueryText::sql)
        .containsExactlyInAnyOrder(
            "select * from tide",
            "delete from tide",
            "select id from tide where port = ?",
            "insert into tide (id) values (?)",
            "update tide set height = 1");
  }
}
