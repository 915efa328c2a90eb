package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.jpql.port.BerthId;
import dev.colonnade.query.jpql.port.BerthRepository;
import dev.colonnade.query.jpql.port.BookingRepository;
import dev.colonnade.query.jpql.port.CompanyRepository;
import dev.colonnade.query.jpql.port.CreditNoteRepository;
import dev.colonnade.query.jpql.port.InvoiceRepository;
import dev.colonnade.query.jpql.port.NoteRepository;
import dev.colonnade.query.jpql.port.PilotRepository;
import dev.colonnade.query.jpql.port.StayNotes;
import dev.colonnade.query.jpql.port.StayRepository;
import dev.colonnade.query.jpql.port.TankerRepository;
import dev.colonnade.query.jpql.port.VesselRepository;
import dev.colonnade.query.source.FoundQueries;
import java.lang.reflect.Method;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * The queries found in repositories, against what Spring Data JPA 4.1.2 with Hibernate ORM 7.4
 * sends when the same methods are called: the same statements over the same tables, with the same
 * kinds of join, conditions, order, limit and columns.
 */
final class SpringDataComparisonTest {
  private static final List<Class<?>> REPOSITORIES =
      List.of(
          BerthRepository.class,
          BookingRepository.class,
          CompanyRepository.class,
          CreditNoteRepository.class,
          InvoiceRepository.class,
          NoteRepository.class,
          PilotRepository.class,
          StayRepository.class,
          TankerRepository.class,
          VesselRepository.class);

  /**
   * Hibernate orders the rows of a fetched collection as its {@code @OrderBy} says, behind the
   * order of the query; that order is not added to ours.
   */
  private static final String ORDERED_COLLECTION = "findByPaidAndCargoTons";

  private static PortDatabase database;
  private static PortRepositories repositories;
  private static FoundQueries found;
  private static RepositoryComparison comparison;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
    repositories = new PortRepositories(database, Map.of(BerthId.class, new BerthId("x", 1)));
    found = database.queriesOfRepositories();
    comparison =
        new RepositoryComparison(
            database,
            repositories,
            found,
            Map.of("arrival", LocalDateTime.of(2026, 3, 1, 12, 0), "id", 1L),
            Map.of(ORDERED_COLLECTION, " order by n1_0.written desc"));
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @Test
  void every_query_is_analysed() {
    assertThat(found.unanalysed()).extracting(UnanalysedQuery::id).isEmpty();
    assertThat(found.unreadable()).isEmpty();
  }

  @TestFactory
  Stream<DynamicTest> sends_the_same_statements() {
    return comparison.tests(
        REPOSITORIES, (type, method) -> method.getDeclaringClass() == StayNotes.class);
  }

  @Test
  void a_row_that_is_deleted_is_read_and_then_deleted_by_its_identifier() throws Exception {
    Method method = BookingRepository.class.getMethod("deleteByReference", String.class);
    List<String> theirs =
        repositories.sentBy(
            BookingRepository.class,
            method,
            "insert into Vessel(id, length, change_count) values (1, 90, 0)",
            "insert into Booking(id, reference, paid, vessel_id, change_count)"
                + " values (1, 'x', false, 1, 0)");
    String ours =
        found.queries().stream()
            .filter(query -> query.id().endsWith(".BookingRepository.deleteByReference#delete"))
            .map(QueryText::sql)
            .findFirst()
            .orElseThrow();
    assertThat(comparison.shapes(List.of(ours)))
        .isEqualTo(
            comparison.shapes(
                theirs.stream().filter(it -> it.startsWith("delete from Booking ")).toList()));
  }

  @Test
  void the_repositories_of_the_port_are_all_compared() {
    assertThat(
            found.queries().stream()
                .filter(query -> query.source() != QuerySource.MAPPING)
                .map(QueryText::id)
                .map(id -> id.replaceAll("\\.\\w+(#.*)?$", ""))
                .filter(type -> !JakartaDataComparisonTest.isCompared(type))
                .distinct())
        .containsExactlyElementsOf(REPOSITORIES.stream().map(Class::getName).toList());
  }
}
