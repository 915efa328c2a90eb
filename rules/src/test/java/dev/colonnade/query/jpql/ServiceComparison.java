package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.source.FoundQueries;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.TestInstance;

/**
 * The repositories of a service that was written before they were read here, against what Spring
 * Data JPA 4.1.2 with Hibernate ORM 7.4 sends when their methods are called.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class ServiceComparison {
  private final Service service;
  private PortDatabase database;
  private FoundQueries found;
  private RepositoryComparison comparison;

  /**
   * A service.
   *
   * @param name of the database
   * @param left methods whose statements are not held against each other, each with the reason
   * @param values what methods are given, by type
   * @param keys the keys of the row behind which a window is asked for
   */
  record Service(
      String name,
      List<Class<?>> entities,
      List<Class<?>> repositories,
      Map<String, String> left,
      Map<Class<?>, Object> values,
      Map<String, Object> keys) {}

  ServiceComparison(Service service) {
    this.service = service;
  }

  @BeforeAll
  void open() throws SQLException, URISyntaxException {
    database = new PortDatabase(service.name(), service.entities(), Map.of());
    found = database.queriesOfRepositories();
    comparison =
        new RepositoryComparison(
            database,
            new PortRepositories(database, service.values()),
            found,
            service.keys(),
            Map.of());
  }

  @AfterAll
  void close() throws SQLException {
    database.close();
  }

  PortDatabase database() {
    return database;
  }

  FoundQueries found() {
    return found;
  }

  RepositoryComparison comparison() {
    return comparison;
  }

  @Test
  void every_query_is_analysed() {
    assertThat(database.mapping().problems()).isEmpty();
    assertThat(found.unanalysed())
        .extracting(query -> query.id() + ": " + query.reason())
        .isEmpty();
    assertThat(found.unreadable()).isEmpty();
  }

  @TestFactory
  Stream<DynamicTest> sends_the_same_statements() {
    return comparison.tests(
        service.repositories(),
        (type, method) ->
            service.left().containsKey(type.getSimpleName() + "." + method.getName()));
  }

  @TestFactory
  Stream<DynamicTest> sends_the_same_statements_for_inherited_methods() {
    return comparison.inherited(service.repositories());
  }
}
