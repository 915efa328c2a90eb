package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.jpql.repair.Badge;
import dev.colonnade.query.jpql.repair.Bill;
import dev.colonnade.query.jpql.repair.BillRepository;
import dev.colonnade.query.jpql.repair.Client;
import dev.colonnade.query.jpql.repair.ClientRepository;
import dev.colonnade.query.jpql.repair.Craft;
import dev.colonnade.query.jpql.repair.CraftRepository;
import dev.colonnade.query.jpql.repair.Money;
import dev.colonnade.query.jpql.repair.Paper;
import dev.colonnade.query.jpql.repair.PaperRepository;
import dev.colonnade.query.jpql.repair.Party;
import dev.colonnade.query.jpql.repair.PartyRepository;
import dev.colonnade.query.jpql.repair.Quote;
import dev.colonnade.query.jpql.repair.QuoteRepository;
import dev.colonnade.query.jpql.repair.Shift;
import dev.colonnade.query.jpql.repair.ShiftId;
import dev.colonnade.query.jpql.repair.ShiftRepository;
import dev.colonnade.query.jpql.repair.Supplier;
import dev.colonnade.query.jpql.repair.Task;
import dev.colonnade.query.jpql.repair.TaskId;
import dev.colonnade.query.jpql.repair.TaskRepository;
import dev.colonnade.query.jpql.repair.Trawler;
import dev.colonnade.query.jpql.repair.WorkOrder;
import dev.colonnade.query.jpql.repair.WorkOrderRepository;
import dev.colonnade.query.jpql.repair.Worker;
import dev.colonnade.query.jpql.repair.WorkerRepository;
import dev.colonnade.query.jpql.repair.Yacht;
import dev.colonnade.query.source.FoundQueries;
import java.math.BigDecimal;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * The repositories of a second service, which were written before they were read here, against what
 * Spring Data JPA 4.1.2 with Hibernate ORM 7.4 sends when their methods are called.
 */
final class RepairComparisonTest {
  private static final List<Class<?>> ENTITIES =
      List.of(
          Badge.class,
          Bill.class,
          Client.class,
          Craft.class,
          Paper.class,
          Party.class,
          Quote.class,
          Shift.class,
          Supplier.class,
          Task.class,
          Trawler.class,
          WorkOrder.class,
          Worker.class,
          Yacht.class);
  private static final List<Class<?>> REPOSITORIES =
      List.of(
          BillRepository.class,
          ClientRepository.class,
          CraftRepository.class,
          PaperRepository.class,
          PartyRepository.class,
          QuoteRepository.class,
          ShiftRepository.class,
          TaskRepository.class,
          WorkOrderRepository.class,
          WorkerRepository.class);

  /** Methods whose statements are not held against each other, each with the reason. */
  private static final Map<String, String> LEFT =
      Map.of(
          "WorkOrderRepository.urgent", "a named query of the entity, which is found there",
          "ShiftRepository.existsByWorkerAndDay", "Hibernate itself fails",
          "BillRepository.claim", "rows are chosen without the superclass's table, which adds none",
          "QuoteRepository.claim", "as above",
          "BillRepository.findBySettledIsNull", "Hibernate leaves out what tells the class here",
          "PaperRepository.ofFinished", "Hibernate asks for the class besides the class's table",
          "CraftRepository.hullsOfOthers", "Hibernate leaves out the table of a class ruled out",
          "WorkOrderRepository.ofBigYachts", "as above",
          "WorkOrderRepository.old", "another word for now");

  private static PortDatabase database;
  private static FoundQueries found;
  private static RepositoryComparison comparison;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase("repair", ENTITIES, Map.of());
    found = database.queriesOfRepositories();
    comparison =
        new RepositoryComparison(
            database,
            new PortRepositories(
                database,
                Map.of(
                    TaskId.class, new TaskId(1L, 1),
                    ShiftId.class, new ShiftId(1L, LocalDate.of(2026, 3, 1)),
                    UUID.class, new UUID(1, 2),
                    Class.class, Supplier.class,
                    Money.class, new Money(BigDecimal.ONE, "EUR"))),
            found,
            Map.of("priority", 5, "id", 1L),
            Map.of());
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
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
        REPOSITORIES,
        (type, method) -> LEFT.containsKey(type.getSimpleName() + "." + method.getName()));
  }

  @TestFactory
  Stream<DynamicTest> sends_the_same_statements_for_inherited_methods() {
    return comparison.inherited(REPOSITORIES);
  }
}
