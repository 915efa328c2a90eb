package dev.colonnade.query.source;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;

/**
 * A small service in a directory: sources under {@code src/main/java}, compiled to {@code
 * target/classes}. The annotations and interfaces of Spring Data and Jakarta Persistence that it
 * uses are stand-ins under the real names with the attributes that matter (seen in spring-data-jpa
 * 4.1.2, spring-data-relational and jakarta.persistence-api 3.2.0), compiled elsewhere as they are
 * in a real build.
 */
final class CompiledService {
  private static final Pattern PACKAGE = Pattern.compile("package ([\\w.]+);");
  private static final Pattern TYPE = Pattern.compile("\\b(?:interface|class|enum|record) (\\w+)");

  private static final List<String> LIBRARIES =
      List.of(
          """
          package org.springframework.data.jpa.repository;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          @Target({ElementType.METHOD, ElementType.ANNOTATION_TYPE})
          public @interface Query {
            String value() default "";
            String countQuery() default "";
            boolean nativeQuery() default false;
            String name() default "";
          }
          """,
          """
          package org.springframework.data.jpa.repository;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          @Query(nativeQuery = true)
          public @interface NativeQuery {
            String value() default "";
            String countQuery() default "";
          }
          """,
          """
          package org.springframework.data.jdbc.repository.query;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Query { String value() default ""; }
          """,
          """
          package org.springframework.data.r2dbc.repository;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Query { String value(); }
          """,
          """
          package org.springframework.data.repository;
          public interface CrudRepository<T, ID> {}
          """,
          """
          package org.springframework.data.jpa.repository;
          public interface JpaRepository<T, ID>
              extends org.springframework.data.repository.CrudRepository<T, ID> {}
          """,
          """
          package org.springframework.core.annotation;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface AliasFor {
            String attribute() default "";
            Class<? extends Annotation> annotation() default Annotation.class;
          }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Entity { String name() default ""; }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Table {
            String name() default "";
            String schema() default "";
            String catalog() default "";
          }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface SecondaryTable { String name(); String schema() default ""; }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Column { String name() default ""; String table() default ""; }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface JoinTable { String name() default ""; String schema() default ""; }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface ManyToMany { String mappedBy() default ""; }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          @Repeatable(NamedQueries.class)
          public @interface NamedQuery { String name(); String query(); }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface NamedQueries { NamedQuery[] value(); }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface NamedNativeQuery { String name(); String query(); }
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface Id {}
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface MappedSuperclass {}
          """,
          """
          package jakarta.persistence;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.RUNTIME)
          public @interface ManyToOne {}
          """,
          """
          package jakarta.persistence;
          public interface EntityManager {
            Query createQuery(String text);
            Query createNativeQuery(String text);
            Query createNamedQuery(String name);
          }
          """,
          """
          package jakarta.persistence;
          public interface Query {
            Query setParameter(String name, Object value);
            Query setMaxResults(int count);
            java.util.List<?> getResultList();
          }
          """,
          """
          package org.springframework.jdbc.core;
          public class JdbcTemplate {
            public <T> T queryForObject(String sql, Class<T> type, Object... values) { return null; }
            public int update(String sql, Object... values) { return 0; }
            public void execute(String sql) {}
          }
          """,
          """
          package org.flywaydb.core.api.migration;
          public abstract class BaseJavaMigration {}
          """,
          """
          package org.example.sql;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.CLASS)
          @Repeatable(Statements.class)
          public @interface Statement { String[] lines(); }
          """,
          """
          package org.example.sql;
          import java.lang.annotation.*;
          @Retention(RetentionPolicy.CLASS)
          public @interface Statements { Statement[] value(); }
          """);

  private final Path base;

  private CompiledService(Path base) {
    this.base = base;
  }

  /** Writes and compiles the sources under the base directory. */
  static CompiledService of(Path base, String... sources) {
    CompiledService service = new CompiledService(base);
    Path libraries = base.resolve("libraries/classes");
    compile(write(base.resolve("libraries/java"), LIBRARIES), libraries, libraries);
    List<Path> files = write(service.sources(), List.of(sources));
    compile(files, service.classes(), libraries);
    return service;
  }

  Path base() {
    return base;
  }

  Path classes() {
    return base.resolve("target/classes");
  }

  Path sources() {
    return base.resolve("src/main/java");
  }

  FoundQueries scan(QueryAnnotation... annotations) {
    return new RepositoryScanner(base, classes(), List.of(sources()), List.of(annotations)).scan();
  }

  private static List<Path> write(Path directory, List<String> sources) {
    List<Path> files = new ArrayList<>();
    for (String source : sources) {
      Path file =
          directory.resolve(
              first(PACKAGE, source).replace('.', '/') + "/" + first(TYPE, source) + ".java");
      try {
        Files.createDirectories(file.getParent());
        Files.writeString(file, source);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      files.add(file);
    }
    return files;
  }

  private static String first(Pattern pattern, String source) {
    Matcher matcher = pattern.matcher(source);
    if (!matcher.find()) {
      throw new IllegalArgumentException("no " + pattern + " in " + source);
    }
    return matcher.group(1);
  }

  private static void compile(List<Path> files, Path output, Path classPath) {
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    StringWriter messages = new StringWriter();
    try (StandardJavaFileManager manager = compiler.getStandardFileManager(null, null, UTF_8)) {
      Files.createDirectories(output);
      boolean compiled =
          compiler
              .getTask(
                  messages,
                  manager,
                  null,
                  List.of(
                      "-proc:none",
                      "--release",
                      "17",
                      "-d",
                      output.toString(),
                      "-cp",
                      classPath.toString()),
                  null,
                  manager.getJavaFileObjectsFromPaths(files))
              .call();
      if (!compiled) {
        throw new IllegalArgumentException(messages.toString());
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
