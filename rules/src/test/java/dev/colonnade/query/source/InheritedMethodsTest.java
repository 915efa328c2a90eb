package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What repositories have from above. The interfaces stand under the names that they have in Spring
 * Data Commons 4.1.2 (its Javadoc); what the inherited methods send is held against Spring Data
 * elsewhere.
 */
final class InheritedMethodsTest {
  private static final String BERTH =
      """
      package port;
      @jakarta.persistence.Entity
      public class Berth {
        @jakarta.persistence.Id Long id;
        String name;
      }
      """;
  private static final String PAGEABLE =
      "package org.springframework.data.domain; public interface Pageable {}";
  private static final String COROUTINES =
      """
      package org.springframework.data.repository.kotlin;
      public interface CoroutineCrudRepository<T, ID> {}
      """;
  private static final String RX =
      """
      package org.springframework.data.repository.reactive;
      public interface RxJava3CrudRepository<T, ID> {}
      """;
  private static final String BASE =
      """
      package house;
      public interface Named<T, ID>
          extends org.springframework.data.jpa.repository.JpaRepository<T, ID> {
        @org.springframework.data.jpa.repository.Query("select e from #{#entityName} e")
        java.util.List<T> whole();
        java.util.List<T> findByName(String name);
      }
      """;

  @TempDir private Path base;

  @Test
  void an_overload_stands_beside_the_inherited_method() {
    assertThat(
            ids(
                """
                package port;
                import java.util.List;
                import org.springframework.data.domain.Pageable;
                import org.springframework.data.jpa.repository.*;
                public interface Berths extends JpaRepository<Berth, Long> {
                  List<Berth> findAll(Pageable page);
                  @Query("select e from Berth e where e.name = ?1") List<Berth> findAll(String name);
                  @Query("select e from Berth e where e.id = ?1 and e.name = ?2")
                  Berth findById(Long id, String name);
                  @Query("select count(e) from Berth e where e.name is not null") long count();
                  @Override String toString();
                }
                """))
        .contains(
            "port.Berths.findAll: select e.id, e.name from Berth e where e.name = ?1",
            "port.Berths.findAll~2: select e.id, e.name from Berth e"
                + " limit :pageSize offset :pageOffset",
            "port.Berths.findAll~3: select e.id, e.name from Berth e",
            "port.Berths.findById~2: select e.id, e.name from Berth e where e.id = ?")
        .filteredOn(it -> it.startsWith("port.Berths.count"))
        .containsExactly(
            "port.Berths.count: select count(e.id) from Berth e where e.name is not null");
  }

  @Test
  void repositories_that_answer_later_inherit_the_same() {
    String methods =
        "package port; public interface %s extends %s<Berth, Long> {"
            + " java.util.List<Berth> findByName(String name); }";
    List<String> found =
        ids(
            methods.formatted(
                "Later", "org.springframework.data.repository.kotlin.CoroutineCrudRepository"),
            methods.formatted(
                "Flowing", "org.springframework.data.repository.reactive.RxJava3CrudRepository"));

    for (String repository : List.of("port.Later", "port.Flowing")) {
      assertThat(found)
          .contains(
              repository + ".findByName: select e.id, e.name from Berth e where e.name = ?1",
              repository + ".findAllById: select e.id, e.name from Berth e where e.id in (?1)",
              repository + ".deleteById: select e.id, e.name from Berth e where e.id = ?");
    }
  }

  @Test
  void a_base_in_a_module_beside_is_looked_up() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            BERTH,
            BASE,
            "package port; public interface Berths extends house.Named<Berth, Long> {}");
    Path beside = Files.createDirectories(base.resolve("beside/house"));
    Files.move(service.classes().resolve("house/Named.class"), beside.resolve("Named.class"));

    assertThat(ids(service, List.of(beside.getParent())))
        .contains(
            "port.Berths.whole: select e.id, e.name from Berth e",
            "port.Berths.findByName: select e.id, e.name from Berth e where e.name = ?1",
            "port.Berths.findById: select e.id, e.name from Berth e where e.id = ?");
  }

  private List<String> ids(String... sources) {
    String[] all = new String[sources.length + 4];
    System.arraycopy(sources, 0, all, 0, sources.length);
    List<String> common = List.of(BERTH, PAGEABLE, COROUTINES, RX);
    for (int i = 0; i < common.size(); i++) {
      all[sources.length + i] = common.get(i);
    }
    return ids(CompiledService.of(base, all), List.of());
  }

  private List<String> ids(CompiledService service, List<Path> classPath) {
    ClassFiles classes = ClassFiles.read(base, service.classes(), Map.of(), classPath);
    FoundQueries found =
        new RepositoryScanner(base, service.classes(), List.of(service.sources()), List.of())
            .scan(
                classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
    assertThat(found.unanalysed()).isEmpty();
    return found.queries().stream().map(InheritedMethodsTest::shown).toList();
  }

  private static String shown(QueryText query) {
    return query.id() + ": " + query.sql();
  }
}
