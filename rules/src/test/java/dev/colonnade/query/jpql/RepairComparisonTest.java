package dev.colonnade.query.jpql;

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
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** The repositories of a second service. */
final class RepairComparisonTest extends ServiceComparison {
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
          "ShiftRepository.existsByWorkerAndDay", "Hibernate itself fails",
          "BillRepository.claim",
              "Hibernate joins the superclass's table by its key when it chooses the rows, which"
                  + " are changed there by the same key afterwards",
          "QuoteRepository.claim", "as above",
          "BillRepository.findBySettledIsNull",
              "Hibernate leaves out what tells the class here; the row is found by its key",
          "PaperRepository.ofFinished",
              "Hibernate asks for the class besides the class's table, of a row that is read",
          "WorkOrderRepository.old", "another word for now, which is a value all the same");

  RepairComparisonTest() {
    super(
        new Service(
            "repair",
            ENTITIES,
            REPOSITORIES,
            LEFT,
            Map.of(
                TaskId.class, new TaskId(1L, 1),
                ShiftId.class, new ShiftId(1L, LocalDate.of(2026, 3, 1)),
                UUID.class, new UUID(1, 2),
                Class.class, Supplier.class,
                Money.class, new Money(BigDecimal.ONE, "EUR")),
            Map.of("priority", 5, "id", 1L)));
  }
}
