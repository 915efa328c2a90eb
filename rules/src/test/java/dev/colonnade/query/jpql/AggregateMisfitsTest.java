package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.UnanalysedQuery;
import java.net.URISyntaxException;
import java.sql.SQLException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Aggregates that do not fit: one entry each, and the rest goes on. */
final class AggregateMisfitsTest {
  private static final String PACKAGE = "dev.colonnade.query.jpql.shoal.";

  private static JettyDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException, ClassNotFoundException {
    database = new JettyDatabase(Class.forName(PACKAGE + "BuoyRepository"));
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @Test
  void what_does_not_fit_is_listed_with_its_class_file() {
    assertThat(database.reading().problems())
        .allMatch(it -> it.location().file().endsWith(".class"))
        .extracting(NotUnderstood::reason)
        .containsExactlyInAnyOrder(
            "aggregate Buoy: part chained contains itself",
            "entity Buoy: its column colour is not in table VESSEL",
            "entity Buoy$marks: its table mark is not in the schema",
            "the naming strategy "
                + PACKAGE
                + "UpperCase is not read: names that are not written are taken in snake_case");
  }

  @Test
  void a_name_that_no_condition_can_be_made_of_says_why() {
    assertThat(database.found().unanalysed())
        .extracting(it -> it.id().replace(PACKAGE, ""), UnanalysedQuery::reason)
        .containsExactlyInAnyOrder(
            tuple(
                "BuoyRepository.findByMarksLight",
                "marks.light lies in another table, which conditions of a name do not reach"),
            tuple("BuoyRepository.findByHeight", "Buoy has no attribute that Height stands for"),
            tuple("BuoyRepository.findByNameMatchesRegex", "name: this condition has no JPQL"),
            tuple("ChartRepository.findByScale", PACKAGE + "Chart is no entity with a mapping"),
            tuple(
                "CurrentRepository.findByKnots", PACKAGE + "Current is no entity with a mapping"));
  }

  @Test
  void the_rest_goes_on() {
    assertThat(database.found().queries())
        .extracting(it -> it.id().replace(PACKAGE, ""))
        .contains("BuoyRepository.findByName", "BuoyRepository.findById", "Buoy.marks");
  }
}
