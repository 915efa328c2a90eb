package dev.colonnade.query.jpql.basin;

import jakarta.persistence.LockModeType;
import jakarta.persistence.Tuple;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Slice;
import org.springframework.data.domain.Sort;
import org.springframework.data.jpa.repository.EntityGraph;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Visits. */
public interface VisitRepository extends JpaRepository<Visit, Long> {
  List<Visit> findBySlot(Slot slot);

  List<Visit> findBySlotBasin(Basin basin);

  List<Visit> findBySlotBasinId(Long id);

  List<Visit> findBySlotNumberAndSlotBasinCode(int number, String code);

  List<Visit> findBySlotKeeper(Foreman keeper);

  List<Visit> findBySlotKeeperBadge(String badge);

  List<Visit> findBySlotKeeperId(UUID id);

  List<Visit> findBySlotKeeperNameLikeOrderBySlotBasinCodeAscSlotNumberDesc(String name);

  List<Visit> findByShip(Ship ship);

  List<Visit> findByShipMasterName(String name);

  List<Visit> findByShipIsNullOrPermitIsNotNull();

  List<Visit> findByPermitSignerBadgeIgnoreCase(String badge);

  List<Visit> findByListContainingOrListIsNull(String part);

  List<Visit> findByHoursGreaterThan(int hours);

  List<Visit> findByKindInAndSinceBetween(Collection<Basin.Kind> kinds, LocalDate a, LocalDate b);

  List<Visit> findBySinceAfterAndUntilBeforeOrNotedIsNull(LocalDate a, LocalDate b);

  List<Visit> getBySinceGreaterThanEqualAndDaysLessThan(LocalDate day, int days);

  Stream<Visit> queryByDaysNotNull();

  Set<Visit> searchByListStartsWithIgnoreCase(String start);

  Slice<Visit> findSliceByKind(Basin.Kind kind, Pageable page);

  List<Visit> findFirst3DistinctByKindOrderBySinceDesc(Basin.Kind kind);

  Optional<Visit> findTopByOrderByNotedDesc();

  long countByKindNot(Basin.Kind kind);

  long countBySlotBasinRoofedTrue();

  boolean existsBySlotBasinCodeAndUntilIsNull(String code);

  long removeByUntilBefore(LocalDate day);

  @EntityGraph(attributePaths = {"ship", "slot.basin"})
  List<Visit> findByDays(int days);

  @EntityGraph(attributePaths = {"ship.master"})
  @Query("select csv from Visit csv where csv.list = :list")
  List<Visit> withMaster(String list);

  @Lock(LockModeType.PESSIMISTIC_FORCE_INCREMENT)
  @Query("select v from Visit v where v.permit.number = ?1")
  List<Visit> lockedByPermit(String number);

  @Query("select v.slot from Visit v where v.id = :id")
  Optional<Slot> slotOf(Long id);

  @Query("select v from Visit v where v.slot.keeper.badge = :badge and v.ship.id = :ship")
  List<Visit> kept(String badge, Long ship);

  @Query("select v from Visit v where (v.since, v.until) = (:since, :until)")
  List<Visit> during(LocalDate since, LocalDate until);

  @Query("select v from Visit v where (v.list, v.days) in (('a', 1), ('b', 2))")
  List<Visit> pairs();

  @Query(
      "select v from Visit v where v.since between v.until and :day or v.days not between 1 and 3")
  List<Visit> odd(LocalDate day);

  @Query("select v from Visit v where v.list not like :pattern escape '!'")
  List<Visit> unlike(String pattern);

  @Query("select v from Visit v where v.days is distinct from :days")
  List<Visit> otherThan(Integer days);

  @Query("select v from Visit v where v.list ilike :pattern")
  List<Visit> alike(String pattern);

  @Query("select v.kind, count(v) filter (where v.days > 3) from Visit v group by v.kind")
  List<Object[]> longOnes();

  @Query("select s.name as name, size(b.slots) as slots from Basin b join b.foreman s")
  List<Tuple> tuples();

  @Query("select new map(v.id as id, v.list as list) from Visit v where v.kind = 'WATER'")
  List<Map<String, Object>> maps();

  @Query("select v from Visit v where v.slot.basin.code = ?#{#code} and v.days > :#{#least + 1}")
  List<Visit> spelled(@Param("code") String code, @Param("least") int least);

  @Query(
      "select b.code, (select max(v.until) from Visit v where v.slot.basin = b) from Basin b order"
          + " by 2 desc nulls last")
  List<Object[]> lastVisits();

  @Query("select v from Visit v order by case when v.kind = Kind.WATER then 1 else 2 end, v.since")
  List<Visit> ordered();

  @Query("select v.list from Visit v where v.days > 1 intersect select b.code from Basin b")
  List<String> codes();

  @Query("select v from Visit v left join v.permit p on p.number = '1' where p.id is null")
  List<Visit> unpermitted();

  @Query("select d from Dredger d where d.tender.master.badge = :badge")
  List<Ship.Dredger> tended(String badge);

  @Query("select s from Ship s where type(s) in (Dredger, Barge) and s.master.name = :name")
  List<Ship> ofMaster(String name);

  @Query("select f from Basin b join b.deputies f where b.id = ?1")
  List<Foreman> deputies(Long id);

  @Query("select h.worker.name from Basin b join b.crew h where h.task = :task")
  List<String> workers(String task);

  @Query("select b from Basin b join b.fees f where key(f) = Kind.POWER and value(f) > :fee")
  List<Basin> dear(int fee);

  @Query("select b.settings, b.statement from Basin b where b.statement is not null")
  List<Object[]> words();

  @Query(
      value =
          "select v.id, b.depth from Visit v join Basin b on b.id = v.basin_id where v.days > ?1",
      countQuery = "select count(*) from Visit v where v.days > ?1",
      nativeQuery = true)
  Page<Object[]> plain(int days, Pageable page);

  @Query("select v from Visit v where v.noted > :from")
  List<Visit> sorted(Instant from, Sort sort);

  @Modifying
  @Query("update Visit v set v.list = upper(v.list), v.kind = null where v.slot.number = :number")
  int clear(int number);

  @Modifying
  @Query("delete from Visit v where v.permit is null and v.ship.id in (select s.id from Ship s)")
  int drop();

  @Modifying
  @Query(
      "insert into Permit (id, number, signer) select v.id, v.list, s.keeper from Visit v join"
          + " v.slot s")
  int copy();
}
