package dev.colonnade.query.jpql.repair;

import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Slice;
import org.springframework.data.jpa.repository.EntityGraph;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;

/** Tasks. */
public interface TaskRepository extends JpaRepository<Task, TaskId> {
  List<Task> findByIdOrderIdOrderByIdLine(Long order);

  List<Task> findByOrder_IdAndDoneFalse(Long order);

  List<Task> findByOrderStateAndWorkerIsNull(State state);

  List<Task> findByOrderCraftTonnageGreaterThan(double tonnage);

  Slice<Task> findByDoneFalseAndDueAtBeforeOrderByDueAt(OffsetDateTime at, Pageable page);

  List<Task> findByPlannedGreaterThanEqual(Duration planned);

  List<Task> findByIdIn(Set<TaskId> ids);

  long countByOrderAndDoneTrue(WorkOrder order);

  long deleteByOrderClientId(Long client);

  @Modifying
  @Query("update Task t set t.worker = :worker, t.done = false where t.order.id = :order")
  int assign(Worker worker, Long order);

  @Modifying
  @Query("delete from Task t where t.order in (select o from WorkOrder o where o.state = :state)")
  int forget(State state);

  @Override
  @EntityGraph(attributePaths = {"order.client", "worker"})
  List<Task> findAll();

  @Override
  @EntityGraph(attributePaths = "worker")
  Optional<Task> findById(TaskId id);

  @Query("select t.id.line from Task t where t.id.orderId = :order and t.worker is null")
  List<Integer> freeLines(Long order);
}
