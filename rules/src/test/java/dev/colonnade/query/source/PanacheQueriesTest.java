package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.schema.Schema;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Fragments as the Quarkus guide "Simplified Hibernate ORM with Panache" describes them, section
 * "Simplified queries". The stand-ins have the names and descriptors of its Javadoc, from memory.
 */
final class PanacheQueriesTest {
  private static final String BASE =
      """
      package io.quarkus.hibernate.orm.panache;
      public abstract class PanacheEntityBase {
        public static Object find(String query, Object... values) { return null; }
        public static Object list(String query, Object... values) { return null; }
        public static long count(String query, Object... values) { return 0; }
        public static long delete(String query, Object... values) { return 0; }
        public static int update(String query, Object... values) { return 0; }
      }
      """;
  private static final String REPOSITORY =
      """
      package io.quarkus.hibernate.orm.panache;
      public interface PanacheRepositoryBase<E, I> {
        default Object find(String query, Object... values) { return null; }
      }
      """;
  private static final String BERTH =
      """
      package port;
      @jakarta.persistence.Entity
      public class Berth extends io.quarkus.hibernate.orm.panache.PanacheEntityBase {
        @jakarta.persistence.Id Long id;
        String name;
        int depth;
        static Object deep() { return list("depth > ?1 order by name", 9); }
      }
      """;

  @TempDir private Path base;

  @Test
  void fragments_become_whole_queries() {
    FoundQueries found =
        scan(
            """
            package port;
            public class Harbour {
              void attribute() { Berth.find("name", "north"); }
              void ordered() { Berth.list("order by depth"); }
              void whole() { Berth.find("from Berth b where b.depth < 3"); }
              void where() { Berth.find("where depth = 4"); }
              void named() { Berth.find("#Berth.deep"); }
              void number() { Berth.count("depth", 3); }
              void gone() { Berth.delete("name", "east"); }
              void changed() { Berth.update("depth = 4 where name = ?1", "west"); }
              void built(String order) { Berth.find("order by " + order); }
            }
            """);

    assertThat(found.queries())
        .extracting(query -> query.id() + ": " + query.text())
        .containsExactly(
            "port.Berth.deep: from Berth where depth > ?1 order by name",
            "port.Harbour.attribute: from Berth where name = ?1",
            "port.Harbour.changed: update Berth set depth = 4 where name = ?1",
            "port.Harbour.gone: delete from Berth where name = ?1",
            "port.Harbour.number: select count(*) from Berth where depth = ?1",
            "port.Harbour.ordered: from Berth order by depth",
            "port.Harbour.where: from Berth where depth = 4",
            "port.Harbour.whole: from Berth b where b.depth < 3");
    assertThat(found.queries().get(1).sql()).contains("where").contains("name = ?");
    assertThat(found.queries().get(1).location().toString())
        .isEqualTo("src/main/java/port/Harbour.java:3");
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("port.Harbour.built");
  }

  @Test
  void a_repository_tells_its_entity() {
    FoundQueries found =
        scan(
            """
            package port;
            import io.quarkus.hibernate.orm.panache.PanacheRepositoryBase;
            public class Berths implements PanacheRepositoryBase<Berth, Long> {
              Object shallow() { return find("depth < 3 and name = ?1", "x"); }
            }
            """);

    assertThat(found.queries())
        .extracting(query -> query.id() + ": " + query.text())
        .contains("port.Berths.shallow: from Berth where depth < 3 and name = ?1");
    assertThat(found.unanalysed()).isEmpty();
  }

  private FoundQueries scan(String source) {
    CompiledService service = CompiledService.of(base, BASE, REPOSITORY, BERTH, source);
    ClassFiles classes = ClassFiles.read(base, service.classes());
    return new BodyScanner(base, List.of(service.sources()))
        .scan(classes, new MappingReader(classes, Schema.EMPTY).guess().mapping(), "postgresql");
  }
}
