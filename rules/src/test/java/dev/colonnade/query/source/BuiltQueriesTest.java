package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Queries without a text. The stand-ins have the names and descriptors of jakarta.persistence-api
 * 3.2.0 and spring-data-jpa 4.1.2.
 */
final class BuiltQueriesTest {
  private static final String BUILDER =
      """
      package jakarta.persistence.criteria;
      public interface CriteriaBuilder {
        <T> CriteriaQuery<T> createQuery(Class<T> type);
        Object equal(Object left, Object right);
        interface CriteriaQuery<T> {}
      }
      """;
  private static final String SPECIFICATION =
      """
      package org.springframework.data.jpa.domain;
      public interface Specification<T> {}
      """;
  private static final String EXECUTOR =
      """
      package org.springframework.data.jpa.repository;
      import org.springframework.data.jpa.domain.Specification;
      public interface JpaSpecificationExecutor<T> {
        java.util.List<T> findAll(Specification<T> wanted);
        long count(Specification<T> wanted);
      }
      """;

  @TempDir private Path base;

  @Test
  void places_are_counted_and_told_once_a_class() {
    FoundQueries found =
        scan(
            BUILDER,
            SPECIFICATION,
            EXECUTOR,
            """
            package port;
            import org.springframework.data.jpa.domain.Specification;
            import org.springframework.data.jpa.repository.JpaSpecificationExecutor;
            public class Berths {
              interface Repository extends JpaSpecificationExecutor<String> {}
              Repository repository;
              Object one(Specification<String> free) {
                return repository.findAll(free);
              }
              long two(Specification<String> free) { return repository.count(free); }
              Object three(jakarta.persistence.criteria.CriteriaBuilder builder) {
                builder.equal("a", "b");
                return builder.createQuery(String.class);
              }
            }
            """);

    assertThat(found.unreadable())
        .extracting(it -> it.location() + " " + it.reason())
        .containsExactly(
            "src/main/java/port/Berths.java:8 2 queries are built at run time with a"
                + " specification: what they read is not known",
            "src/main/java/port/Berths.java:13 a query is built at run time with the Criteria"
                + " API: what it reads is not known");
    assertThat(found.withoutText()).isEqualTo(3);
    assertThat(found.total()).isZero();
    assertThat(FoundQueries.NONE.and(found).and(found).withoutText()).isEqualTo(6);
  }

  @Test
  void reads_by_name_and_texts_are_not_among_them() {
    FoundQueries found =
        scan(
            """
            package port;
            public class Berths {
              interface Repository { Object findAll(Iterable<Long> keys); }
              Object some(Repository repository, jakarta.persistence.EntityManager manager) {
                manager.createQuery("select b from Berth b");
                return repository.findAll(java.util.List.of());
              }
            }
            """);

    assertThat(found.withoutText()).isZero();
    assertThat(found.unreadable()).isEmpty();
  }

  private FoundQueries scan(String... sources) {
    CompiledService service = CompiledService.of(base, sources);
    return new BuiltQueries(base, List.of(service.sources()))
        .scan(ClassFiles.read(base, service.classes()));
  }
}
