package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Texts that methods put together from pieces, as javac compiles them. */
final class BuiltTextsTest {
  @TempDir private Path base;

  /** The queries and entries of a class's methods, each with the name of its method. */
  private List<String> read(String methods) {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.example.harbour;
            import java.util.*;
            public class Berths {
              private static final String COLUMNS = "id, name";
              private static final String FROM = " from berth b";
              private final String base = "select " + COLUMNS + FROM;
              org.springframework.jdbc.core.JdbcTemplate jdbc;
            %s
            }
            """
                .formatted(methods));
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    FoundQueries found =
        new BodyScanner(service.base(), List.of())
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    List<String> all = new ArrayList<>();
    found.queries().forEach(it -> all.add(name(it.id()) + ": " + it.sql()));
    found.unanalysed().forEach(it -> all.add(name(it.id()) + "! " + it.reason()));
    return all;
  }

  private static String name(String id) {
    return id.substring(id.lastIndexOf('.') + 1);
  }

  @Test
  void definitions_are_no_queries_whatever_their_parts_are() {
    assertThat(
            read(
                """
                void drop(String database, String name) {
                  String sql;
                  switch (database) {
                    case "postgresql": sql = "drop table if exists " + name + " cascade"; break;
                    case "h2": sql = "DROP TABLE IF EXISTS " + name; break;
                    default: throw new IllegalArgumentException(database);
                  }
                  jdbc.execute(sql);
                  jdbc.execute("alter table " + name + " drop constraint " + name + "_key");
                }
                void clear(String name) { jdbc.execute("delete from " + name); }
                """))
        .singleElement()
        .asString()
        .startsWith("clear! ");
  }

  @Test
  void optional_parts_are_in_and_out() {
    assertThat(
            read(
                """
                void find(String name, Integer depth, boolean sorted) {
                  if (name == null && depth == null) throw new IllegalArgumentException("none");
                  StringBuilder sql = new StringBuilder("select * from berth where 1 = 1");
                  List<Object> values = new ArrayList<>();
                  if (name != null) { sql.append(" and name = ?"); values.add(name); }
                  if (depth != null) { sql.append(" and depth > ?"); values.add(depth); }
                  sql.append(sorted ? " order by name" : "");
                  jdbc.update(sql.toString(), values.toArray());
                }
                """))
        .contains(
            "find: select * from berth where 1 = 1",
            "find: select * from berth where 1 = 1 and name = ?",
            "find: select * from berth where 1 = 1 and depth > ?",
            "find: select * from berth where 1 = 1 and name = ? and depth > ? order by name")
        .allMatch(it -> it.startsWith("find: select * from berth where 1 = 1"))
        .hasSize(8);
  }

  @Test
  void strings_that_grow_and_switches() {
    assertThat(
            read(
                """
                void grow(boolean open) {
                  String sql = base;
                  if (open) sql += " where b.open = true";
                  jdbc.update(sql);
                }
                void choose(String kind) {
                  String column = switch (kind) { case "a" -> "name"; case "b" -> "depth"; default -> "id"; };
                  jdbc.update("select " + COLUMNS + FROM + " where " + column + " = ?");
                }
                """))
        .containsExactly(
            "choose: select id, name from berth b where depth = ?",
            "choose: select id, name from berth b where id = ?",
            "choose: select id, name from berth b where name = ?",
            "grow: select id, name from berth b",
            "grow: select id, name from berth b where b.open = true");
  }

  @Test
  void values_of_the_running_service_are_parameters_and_names_are_not_guessed() {
    assertThat(
            read(
                """
                void number(long id) { jdbc.update("delete from berth where id = " + id + " and open = true"); }
                void quoted(String name) { jdbc.update("delete from berth where name = '" + name + "'"); }
                void listed(List<Long> ids) {
                  jdbc.update("delete from berth where id in (" + String.join(",", ids.toString()) + ")");
                }
                void sorted(String column, boolean down) {
                  jdbc.update("select * from berth order by " + column + (down ? " desc" : "") + " limit 5");
                }
                void table(String table) { jdbc.update("delete from " + table + " where id = ?"); }
                void condition(String where) { jdbc.update("select * from berth" + where); }
                void whole(StringBuilder text) { jdbc.update(text.toString()); }
                void column(String column) { jdbc.update("select * from berth where " + column + " = ?"); }
                """))
        .containsExactly(
            "listed: delete from berth where id in (${text})",
            "number: delete from berth where id = ${text} and open = true",
            "quoted: delete from berth where name = '${text}'",
            "sorted: select * from berth limit 5",
            entry("column", 19),
            entry("condition", 17),
            entry("table", 16),
            "whole! text is built at run time in org.example.harbour.Berths:18");
  }

  private static String entry(String method, int line) {
    return method
        + "! what stands for a part of it is not known: the text is built at run time in"
        + " org.example.harbour.Berths:"
        + line;
  }

  @Test
  void loops_run_once_or_not_and_ends_are_cut_off() {
    assertThat(
            read(
                """
                void each(List<Long> ids) {
                  StringBuilder sql = new StringBuilder("delete from berth where id in (");
                  for (Long id : ids) sql.append("?,");
                  sql.setLength(sql.length() - 1);
                  jdbc.update(sql.append(")").toString());
                }
                void or(List<String> names) {
                  StringBuilder sql = new StringBuilder("delete from berth where 1 = 0");
                  for (int i = 0; i < names.size(); i++) { sql.append(" or name = ?"); }
                  jdbc.update(sql.toString());
                }
                """))
        .contains(
            "each: delete from berth where id in (?)",
            "or: delete from berth where 1 = 0",
            "or: delete from berth where 1 = 0 or name = ?");
  }

  @Test
  void formats_and_own_methods() {
    assertThat(
            read(
                """
                void format(int depth) {
                  jdbc.update(String.format("select %s from berth where depth = %d and name like '%%x'", COLUMNS, depth));
                }
                void block(String quay) {
                  jdbc.update(\"""
                      select %s
                      from berth
                      where quay = '%s'\""".formatted(COLUMNS, quay));
                }
                void own(boolean open) { jdbc.update(select(open) + " where b.id = ?"); }
                private String select(boolean open) {
                  return open ? "select 1" + from() : "select 2" + from();
                }
                private static String from() { return FROM; }
                void joined() { jdbc.update(String.join(" ", "select 3", "from berth")); }
                void overridden() { jdbc.update(changed() + " where b.id = ?"); }
                String changed() { return "select 4 from berth b"; }
                """))
        .containsExactly(
            "block: select id, name\nfrom berth\nwhere quay = '${text}'",
            "format: select id, name from berth where depth = ${text} and name like '%x'",
            "joined: select 3 from berth",
            "overridden: select 4 from berth b where b.id = ?",
            "own: select 1 from berth b where b.id = ?",
            "own: select 2 from berth b where b.id = ?");
  }

  @Test
  void what_own_methods_append_is_in_the_text() {
    assertThat(
            read(
                """
                void find(String name, boolean page) {
                  StringBuilder sql = new StringBuilder("select *").append(FROM);
                  where(sql, name);
                  if (page) limit(sql, 5);
                  jdbc.update(sql.toString());
                }
                private void where(StringBuilder sql, String name) {
                  sql.append(" where b.open = 1");
                  if (name != null) { sql.append(" and b.name = ?"); }
                }
                private static void limit(StringBuilder text, int size) { text.append(" limit ").append(size); }
                void cleared() {
                  StringBuilder sql = new StringBuilder("select 1 from berth");
                  clear(sql);
                  jdbc.update(sql.toString());
                }
                private void clear(StringBuilder sql) { sql.setLength(0); sql.append("select 2"); }
                """))
        .containsExactly(
            "find: select * from berth b where b.open = 1",
            "find: select * from berth b where b.open = 1 and b.name = ?",
            "find: select * from berth b where b.open = 1 and b.name = ? limit ${text}",
            "find: select * from berth b where b.open = 1 limit ${text}",
            "cleared! text is built at run time in org.example.harbour.Berths:22");
  }

  @Test
  void what_subclasses_say_goes_into_the_texts_of_their_superclass() {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.example.harbour;
            public abstract class Dao {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              protected abstract String table();
              protected String condition() { return "id = ?"; }
              protected abstract String secret(String any);
              void remove() { jdbc.update("delete from " + table() + " where " + condition()); }
              void hidden() { jdbc.update(secret("x")); }
            }
            """,
            """
            package org.example.harbour;
            public class Berths extends Dao {
              protected String table() { return "berth"; }
              protected String secret(String any) { return any.toLowerCase(); }
              void all() { jdbc.update("update " + table() + " set open = 1 where " + condition()); }
            }
            """,
            """
            package org.example.harbour;
            public class DeepBerths extends Berths {
              protected String condition() { return "depth > 9"; }
            }
            """);
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    FoundQueries found =
        new BodyScanner(service.base(), List.of())
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    assertThat(found.queries())
        .extracting(QueryText::sql)
        .containsExactly(
            "update berth set open = 1 where depth > 9",
            "update berth set open = 1 where id = ?",
            "delete from berth where depth > 9",
            "delete from berth where id = ?");
    assertThat(found.unanalysed())
        .singleElement()
        .satisfies(it -> assertThat(it.id()).endsWith("hidden"));
  }

  @Test
  void of_many_branches_some_ways_are_taken_and_that_is_said() {
    StringBuilder parts = new StringBuilder();
    for (int i = 0; i < 30; i++) {
      parts.append("if (on[%d]) sql.append(\" and c%d = ?\");\n".formatted(i, i));
    }
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.example.harbour;
            public class Berths {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              void many(boolean[] on) {
                StringBuilder sql = new StringBuilder("select 1 from berth where 1 = 1");
                %s
                jdbc.update(sql.toString());
              }
            }
            """
                .formatted(parts));
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    FoundQueries found =
        new BodyScanner(service.base(), List.of())
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    assertThat(found.queries())
        .hasSize(48)
        .extracting(QueryText::id)
        .containsOnly("org.example.harbour.Berths.many");
    assertThat(found.queries())
        .extracting(QueryText::sql)
        .contains("select 1 from berth where 1 = 1", "select 1 from berth where 1 = 1 and c0 = ?")
        .anyMatch(it -> it.contains("c0") && it.contains("c15") && it.contains("c29"));
    assertThat(found.unreadable())
        .singleElement()
        .satisfies(
            it ->
                assertThat(it.reason())
                    .isEqualTo(
                        "query org.example.harbour.Berths.many can become more texts than the 48"
                            + " that are looked at"));
  }

  @Test
  void a_text_that_is_passed_in_whole_is_counted_apart() {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.example.harbour;
            public class Berths {
              org.springframework.jdbc.core.JdbcTemplate jdbc;
              public void run(String sql) { jdbc.update(sql); }
            }
            """);
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    FoundQueries found =
        new BodyScanner(service.base(), List.of())
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    assertThat(found.total()).isZero();
    assertThat(found.withoutText()).isEqualTo(1);
    assertThat(found.unreadable())
        .singleElement()
        .satisfies(
            it ->
                assertThat(it.reason())
                    .isEqualTo(
                        "query org.example.harbour.Berths.run is passed in at run time: its text is"
                            + " not known"));
  }

  @Test
  void what_a_method_of_the_service_may_have_changed_is_not_known() {
    assertThat(
            read(
                """
                void given() {
                  StringBuilder sql = new StringBuilder("select 1 from berth");
                  page(sql);
                  jdbc.update(sql.toString());
                }
                void page(StringBuilder sql) { sql.insert(0, "select * from (").append(") x"); }
                """))
        .containsExactly("given! text is built at run time in org.example.harbour.Berths:11");
  }
}
