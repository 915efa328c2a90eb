package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Which entities' rows a service deletes one by one, by the statements that follow from it. */
final class RemovalsTest {
  private static final String ENTITY =
      """
      package port;
      @jakarta.persistence.Entity
      public class %s {
        @jakarta.persistence.Id Long id;
        String name;
        static %1$s found() { return null; }
      }
      """;
  private static final String SESSION =
      """
      package org.hibernate;
      public interface Session {
        void remove(Object entity);
        void delete(String name, Object entity);
        <T> T find(Class<T> type, Object id);
      }
      """;

  @TempDir private Path base;

  private List<String> deleted(String body) {
    String office =
        "package port; public class Office { org.hibernate.Session session; Berth kept;"
            + " java.util.List<Berth> all; "
            + body
            + "}";
    CompiledService service =
        CompiledService.of(
            base, ENTITY.formatted("Berth"), ENTITY.formatted("Pier"), SESSION, office);
    ClassFiles classes = ClassFiles.read(base, service.classes());
    return new RepositoryScanner(base, service.classes(), List.of(service.sources()), List.of())
            .scan(classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql")
            .queries()
            .stream()
            .map(QueryText::id)
            .filter(id -> id.endsWith("#delete"))
            .toList();
  }

  @Test
  void what_the_compiler_knew_of_an_object_tells_its_entity() {
    for (String removed :
        List.of(
            "void a(Berth gone) { session.remove(gone); }",
            "void a() { session.remove(kept); }",
            "void a() { session.remove(Berth.found()); }",
            "void a() { session.remove(session.find(Berth.class, 1L)); }",
            "void a() { for (Berth berth : all) { session.remove(berth); } }",
            "void a() { all.forEach(it -> session.remove(it)); }",
            "void a() { session.delete(\"Berth\", new Berth()); }")) {
      assertThat(deleted(removed)).as(removed).contains("port.Berth#delete");
      assertThat(deleted(removed)).as(removed).doesNotContain("port.Pier#delete");
    }
  }

  @Test
  void an_object_of_unknown_class_tells_none() {
    for (String removed :
        List.of(
            "void a(Object gone) { session.remove(gone); }",
            "void a(java.util.Map<String, Berth> map) { map.remove(kept); }",
            "void a() { Berth.found(); }")) {
      assertThat(deleted(removed)).as(removed).isEqualTo(deleted("void a() {}"));
    }
  }
}
