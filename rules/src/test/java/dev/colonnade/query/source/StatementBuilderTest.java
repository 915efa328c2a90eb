package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.source.builder.BerthSql;
import java.io.IOException;
import java.io.InputStream;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What is read of MyBatis's builder of statements beside what it makes itself (3.5.19). */
final class StatementBuilderTest {
  @TempDir Path base;

  static Stream<Method> methods() {
    return Arrays.stream(BerthSql.class.getDeclaredMethods())
        .filter(it -> Modifier.isPublic(it.getModifiers()))
        .sorted(Comparator.comparing(Method::getName));
  }

  @ParameterizedTest
  @MethodSource("methods")
  void reads_what_the_builder_itself_makes(Method method)
      throws IOException, ReflectiveOperationException {
    Set<String> made = new TreeSet<>();
    for (List<Object> arguments : arguments(List.of(method.getParameterTypes()))) {
      made.add(flat((String) method.invoke(new BerthSql(), arguments.toArray())));
    }
    Set<String> read = new TreeSet<>();
    for (String text : classes().returnedTexts(BerthSql.class.getName(), method.getName())) {
      read.add(flat(text));
    }
    assertThat(read).isEqualTo(made);
  }

  /** Each argument missing and there. */
  private static List<List<Object>> arguments(List<Class<?>> types) {
    List<List<Object>> result = new ArrayList<>(List.of(List.of()));
    for (Class<?> type : types) {
      List<List<Object>> longer = new ArrayList<>();
      for (List<Object> before : result) {
        for (Object last : Arrays.asList(null, type == String.class ? "x" : 1)) {
          List<Object> all = new ArrayList<>(before);
          all.add(last);
          longer.add(all);
        }
      }
      result = longer;
    }
    return result;
  }

  private static String flat(String sql) {
    return sql.replaceAll("\\s+", " ").replaceAll("\\s*([(),])\\s*", "$1");
  }

  /** A number that is not known is a parameter; a call that is not known leaves nothing known. */
  @Test
  void what_is_not_constant_is_not_guessed() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            """
            package org.apache.ibatis.jdbc;
            public class SQL {
              public SQL SELECT(String column) { return this; }
              public SQL FROM(String table) { return this; }
              public SQL LIMIT(int rows) { return this; }
              public SQL twist() { return this; }
            }
            """,
            """
            package port;
            import org.apache.ibatis.jdbc.SQL;
            class Sql {
              String some(int rows) {
                return new SQL().SELECT("id").FROM("berth").LIMIT(rows).toString();
              }
              String twisted() {
                return new SQL().SELECT("id").FROM("berth").twist().toString();
              }
              String of(String table) {
                return new SQL().SELECT("id").FROM(table).toString();
              }
            }
            """);
    ClassFiles classes = ClassFiles.read(service.base(), service.classes());
    assertThat(classes.returnedTexts("port.Sql", "some"))
        .extracting(StatementBuilderTest::flat)
        .containsExactly("SELECT id FROM berth LIMIT #{rows}");
    assertThat(classes.returnedTexts("port.Sql", "twisted")).isEmpty();
    assertThat(classes.returnedTexts("port.Sql", "of"))
        .extracting(StatementBuilderTest::flat)
        .containsExactly("SELECT id FROM ${text}");
  }

  private ClassFiles classes() throws IOException {
    for (String type : List.of(BerthSql.class.getName(), BerthSql.class.getName() + "$1")) {
      String name = type.replace('.', '/') + ".class";
      Path file = base.resolve("target/classes").resolve(name);
      Files.createDirectories(file.getParent());
      try (InputStream content = BerthSql.class.getResourceAsStream("/" + name)) {
        Files.write(file, content.readAllBytes());
      }
    }
    return ClassFiles.read(base, base.resolve("target/classes"));
  }
}
