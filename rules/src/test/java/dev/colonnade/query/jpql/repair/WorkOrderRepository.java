package dev.colonnade.query.jpql.repair;

import jakarta.persistence.LockModeType;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.ScrollPosition;
import org.springframework.data.domain.Slice;
import org.springframework.data.domain.Sort;
import org.springframework.data.domain.Window;
import org.springframework.data.jpa.repository.EntityGraph;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.util.Streamable;

/** Orders. */
public interface WorkOrderRepository extends AuditedRepository<WorkOrder> {
  Optional<WorkOrder> findByOrderNumber(String number);

  List<WorkOrder> findByOrderNumberOrderByOrderNumber(String number);

  List<WorkOrder> findByStateAndPriorityGreaterThanOrInsuredIsTrue(State state, int priority);

  List<WorkOrder> findByStartsOnLessThanEqualAndEndsOnGreaterThanEqual(LocalDate a, LocalDate b);

  List<WorkOrder> findByCraftId(UUID id);

  List<WorkOrder> findByCraft_HullNumberIn(Collection<String> numbers);

  List<WorkOrder> findByCraftLastSeenLatitudeNotNull();

  List<WorkOrder> findByClientNameLikeIgnoreCase(String pattern);

  List<WorkOrder> findByClientIn(Collection<Client> clients);

  List<WorkOrder> findByParentIsNullAndStateNotIn(Collection<State> states);

  List<WorkOrder> findByParent_Parent_OrderNumber(String number);

  List<WorkOrder> findByParentId(Long id);

  List<WorkOrder> findByChildrenState(State state);

  List<WorkOrder> findByChildrenIsEmpty();

  List<WorkOrder> findBySiteHall(String hall);

  List<WorkOrder> findBySitePositionLatitudeBetween(double from, double to);

  List<WorkOrder> findBySite_Foreman_LastName(String name);

  List<WorkOrder> findBySiteForemanId(Long id);

  List<WorkOrder> findByRemarkContaining(String part);

  List<WorkOrder> findByChargesAmountGreaterThan(BigDecimal amount);

  List<WorkOrder> findByTagsIn(Collection<String> tags);

  List<WorkOrder> findByTagsContainingAndSuppliersNotEmpty(String tag);

  List<WorkOrder> findByTasksWorkerLastName(String name);

  List<WorkOrder> findBySuppliersLeadDaysLessThan(int days);

  List<WorkOrder> findBySuppliersName(String name);

  Optional<WorkOrder> findFirstByStateOrderByPriorityDescStartsOnAsc(State state);

  List<WorkOrder> findTop5ByClientIdOrderByCreatedAtDesc(Long client, Limit limit);

  Slice<WorkOrder> findTop50ByState(State state, Pageable page);

  Window<WorkOrder> findFirst10ByStateOrderByPriorityDesc(State state, ScrollPosition position);

  Streamable<WorkOrder> findByInsuredFalse();

  Stream<WorkOrder> streamAllByStateOrderById(State state);

  List<WorkOrder> findByState(State state, Sort sort);

  Page<WorkOrder> findByClientIdAndStateIn(Long client, Collection<State> states, Pageable page);

  List<Line> findByPriority(int priority);

  List<Brief> findByPriorityLessThan(int priority);

  List<Flat> findByPriorityGreaterThan(int priority);

  <P> Optional<P> findProjectedById(Long id, Class<P> type);

  @EntityGraph("WorkOrder.whole")
  Optional<WorkOrder> findWholeByOrderNumber(String number);

  @EntityGraph(attributePaths = {"client", "site.foreman", "tags"})
  List<WorkOrder> findByEndsOnIsNull();

  @Lock(LockModeType.PESSIMISTIC_WRITE)
  Optional<WorkOrder> findLockedByOrderNumber(String number);

  List<WorkOrder> urgent();

  long countByClient_IdAndState(Long client, State state);

  long countDistinctByTasksWorkerId(Long worker);

  boolean existsByParent(WorkOrder parent);

  void deleteByStateAndEndsOnBefore(State state, LocalDate day);

  @Query("select key(h), sum(value(h)) from WorkOrder o join o.hours h group by key(h)")
  List<Object[]> hoursBySkill();

  @Query("select o from WorkOrder o join o.attributes a where key(a) = 'hull' and value(a) = :hull")
  List<WorkOrder> withHull(String hull);

  @Query("select o from WorkOrder o where o.attributes['paint'] = :paint")
  List<WorkOrder> painted(String paint);

  @Query("select o from WorkOrder o join o.charges c where index(c) = 0 and c.currency = 'EUR'")
  List<WorkOrder> firstInEuro();

  @Query(
      "select new dev.colonnade.query.jpql.repair.WorkOrderRepository$Brief(o.orderNumber, o.state)"
          + " from WorkOrder o where o.state = :state")
  List<Brief> briefs(State state);

  @Query(
      "select o from WorkOrder o where (:state is null or o.state = :state) and (:hall is null or"
          + " lower(o.site.hall) like lower(concat('%', :hall, '%'))) and (:#{#numbers == null} ="
          + " true or o.orderNumber in (:numbers))")
  Page<WorkOrder> search(State state, String hall, Collection<String> numbers, Pageable page);

  @Query(
      "with late as (select o.client.id as client, count(o.id) as cnt from WorkOrder o where"
          + " o.endsOn < local date group by o.client.id) select c.name, l.cnt from Client c join"
          + " late l on l.client = c.id where l.cnt > :least")
  List<Object[]> lateClients(long least);

  @Query(
      "select o.id from WorkOrder o where o.state = State.DONE union all select p.id from WorkOrder"
          + " p where p.priority = 0")
  List<Long> doneOrIdle();

  @Query(
      "select o.orderNumber, row_number() over (partition by o.client.id order by o.priority desc)"
          + " from WorkOrder o where o.state = State.RUNNING")
  List<Object[]> ranked();

  @Query(
      "select cast(o.priority as string), extract(month from o.startsOn) from WorkOrder o where"
          + " extract(year from o.startsOn) = :year order by o.startsOn nulls last")
  List<Object[]> months(int year);

  @Query("select o from WorkOrder o where o.createdAt < instant - 30 day")
  List<WorkOrder> old();

  @Query("select o from WorkOrder o where o.priority > any (select t.id.line from o.tasks t)")
  List<WorkOrder> overloaded();

  @Query("select o from WorkOrder o where treat(o.craft as Yacht).masts > 2")
  List<WorkOrder> ofBigYachts();

  @Query(
      "select o from WorkOrder o left join fetch o.tasks t left join fetch t.worker where o.id ="
          + " :id")
  Optional<WorkOrder> withTasks(Long id);

  @Query(
      "select case o.state when State.DONE then 'x' else o.orderNumber end from WorkOrder o"
          + " where nullif(o.priority, 0) is not null")
  List<String> marks();

  @Modifying
  @Query("update WorkOrder o set o.site.hall = :hall, o.state = State.PLANNED where o.client = :c")
  int move(String hall, Client c);

  @Modifying
  @Query("update versioned WorkOrder o set o.priority = o.priority + 1 where o.parent.id = :id")
  int raise(Long id);

  @Modifying
  @Query("delete WorkOrder o where o.state = ?1 and o.updatedAt < ?2")
  int purge(State state, Instant before);

  @Query(
      value =
          "select o.*, n.note_text from work_orders o left join work_order_notes n on n.id = o.id"
              + " join parties p on p.id = o.client_id where p.full_name = :name /* by name */",
      countQuery =
          "select count(*) from work_orders o join parties p on p.id = o.client_id where"
              + " p.full_name = :name",
      nativeQuery = true)
  Page<WorkOrder> plain(String name, Pageable page);

  @Query(
      value = "select o.order_no from work_orders o where o.state in (:states)",
      nativeQuery = true)
  List<String> plainNumbers(Collection<String> states);

  /** A nested one. */
  interface Line {
    Long getId();

    String getOrderNumber();

    Who getClient();

    Site getSite();

    /** The client. */
    interface Who {
      String getName();

      String getEmail();
    }
  }

  /** A record. */
  record Brief(String orderNumber, State state) {}

  /** Reaches into the client by one name. */
  interface Flat {
    String getOrderNumber();

    String getClientName();

    String getSiteHall();
  }
}
