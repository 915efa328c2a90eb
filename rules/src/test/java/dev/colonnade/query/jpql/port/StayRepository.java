package dev.colonnade.query.jpql.port;

import jakarta.persistence.LockModeType;
import jakarta.persistence.QueryHint;
import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
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
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.jpa.repository.QueryHints;
import org.springframework.data.repository.query.Param;
import org.springframework.data.util.Streamable;

/** Stays once more, asked for with the rest of what the reference of Spring Data JPA has. */
public interface StayRepository extends LookedUp<Booking, Long>, StayNotes {
  List<Booking> findByReferenceIsLike(String pattern);

  List<Booking> findByReferenceIsNotLike(String pattern);

  List<Booking> findByReferenceStartsWith(String start);

  List<Booking> findByReferenceIsStartingWith(String start);

  List<Booking> findByReferenceEndingWith(String end);

  List<Booking> findByReferenceContains(String part);

  List<Booking> findByReferenceIsContaining(String part);

  List<Booking> findByReferenceNotContains(String part);

  List<Booking> findByReferenceIsNotNullAndPaidIsTrue();

  List<Booking> findByReferenceNull();

  List<Booking> findByArrivalIsBetween(LocalDateTime from, LocalDateTime to);

  List<Booking> findByArrivalIsAfter(LocalDateTime from);

  List<Booking> findByCargoTonsBetweenAndPaid(int from, int to, boolean paid);

  List<Booking> findByCargoTonsIn(int... tons);

  List<Booking> findByReferenceIn(String[] references);

  List<Booking> findByIdIsIn(Set<Long> ids);

  List<Booking> findByIdNotInAndVesselIdIn(Set<Long> ids, Iterable<Long> vessels);

  List<Booking> findByStatusIsNotIn(Collection<Status> statuses);

  List<Booking> findByPaidFalseAndStatusNot(Status status);

  List<Booking> findByReferenceNotIgnoreCase(String reference);

  List<Booking> findByReferenceStartingWithIgnoreCaseOrderByReferenceDesc(String start);

  List<Booking> findByReferenceIgnoreCaseAndVesselNameIgnoreCase(String a, String b);

  List<Booking> findByVesselNameAndVesselOwnerNameAllIgnoringCase(String a, String b);

  List<Booking> findByVesselOwnerSeatCityStartingWithOrVesselOwnerBillingCity(String a, String b);

  List<Booking> findByVessel_Owner_Seat_Street(String a);

  List<Booking> findByVesselFlagAndBerthIdNumber(Flag flag, int number);

  List<Booking> findByBerth(Berth berth);

  List<Booking> findByBerthId(BerthId id);

  List<Booking> findByBerthIdIn(Collection<BerthId> ids);

  List<Booking> findByPaidOrderByBerthDepthDesc(boolean paid);

  List<Booking> findByVesselNot(Vessel vessel);

  List<Booking> findByVesselOwner(Company owner);

  List<Booking> findByVesselOwnerIn(Collection<Company> owners);

  List<Booking> findByInvoice(Invoice invoice);

  List<Booking> findByInvoiceIsNull();

  List<Booking> findByInvoiceIsNotNull();

  List<Booking> findByInvoiceId(Long id);

  List<Booking> findByInvoiceTotalGreaterThan(BigDecimal total);

  List<Booking> findByPilots(Pilot pilot);

  List<Booking> findByPilotsId(Long id);

  List<Booking> findByPilotsIdIn(Collection<Long> ids);

  List<Booking> findByPilotsLicence(String licence);

  List<Booking> findByPilotsIsNotEmptyAndNotesIsEmpty();

  List<Booking> findByPilotsNotContaining(Pilot pilot);

  List<Booking> findByPilotsContains(Pilot pilot);

  List<Booking> findByNotesLine(int line);

  List<Booking> findByNotesWrittenAfterAndNotesTextLike(LocalDateTime at, String text);

  List<Booking> findByVesselNicknames(String name);

  List<Booking> findByVesselNicknamesContaining(String name);

  List<Booking> findByVesselNicknamesIn(Collection<String> names);

  List<Booking> findDistinctByPilotsNameOrderByArrival(String name);

  List<Booking> findAllDistinctByPaid(boolean paid);

  List<Booking> findBookingsByPaidOrderByVesselNameAscArrivalDescId(boolean paid);

  Booking findTopByPaidOrderByArrival(boolean paid);

  Booking getFirstByReference(String reference);

  Optional<Booking> findFirstByVesselNameOrderByArrivalDesc(String name);

  List<Booking> readTop10BookingsByStatus(Status status);

  List<Booking> findFirst5By();

  Page<Booking> findTop20ByStatus(Status status, Pageable page);

  Slice<Booking> findFirst20ByPaid(boolean paid, Pageable page);

  List<Booking> findTop5ByPaid(boolean paid, Sort sort);

  Window<Booking> findFirst10ByPaidOrderByArrival(boolean paid, ScrollPosition position);

  Window<Booking> findByStatusOrderByArrivalAscIdAsc(
      Status status, ScrollPosition position, Limit limit);

  Stream<Booking> findAllByPaidFalse();

  Streamable<Booking> findByDepartureIsNull();

  CompletableFuture<List<Booking>> findByDepartureIsNotNull();

  Iterable<Booking> findAllByOrderByIdDesc();

  List<Booking> findBy();

  Page<Booking> findAllByReferenceContainingIgnoreCase(String part, Pageable page);

  Page<Booking> findByPilotsNameAndPaid(String name, boolean paid, Pageable page);

  Page<Booking> findByPaidAndVesselOwnerName(boolean paid, String name, Pageable page);

  long countByPaidTrueAndVesselNameIgnoreCase(String name);

  Long countDistinctByPilotsName(String name);

  int countByNotesIsEmpty();

  long countBy();

  boolean existsByPilotsName(String name);

  boolean existsByReferenceIgnoreCaseAndIdNot(String reference, Long id);

  Boolean existsByBerth(Berth berth);

  long deleteByPaidTrueAndArrivalBefore(LocalDateTime at);

  List<Booking> removeByStatus(Status status);

  void deleteAllByVesselId(Long id);

  void deleteByIdIn(Collection<Long> ids);

  <T> List<T> findByStatusAndPaidTrue(Status status, Class<T> type);

  List<Totals> findByCargoTonsGreaterThanEqual(Integer tons);

  List<VesselOnly> findByCargoTonsLessThanEqual(Integer tons);

  List<OpenOne> findByCargoTonsNot(Integer tons);

  List<NameAndArrival> findByCargoTonsIsNotNull();

  Optional<Totals> findFirstByCargoTonsOrderByArrival(Integer tons);

  Page<Totals> findByCargoTonsAndPaid(Integer tons, boolean paid, Pageable page);

  @EntityGraph(attributePaths = {"vessel.owner", "berth"})
  Optional<Booking> findOneByReference(String reference);

  @EntityGraph(attributePaths = {"pilots"})
  List<Booking> findByPaidOrderByReference(boolean paid);

  @EntityGraph(attributePaths = "vessel")
  @Query("select b from Booking b where b.paid = true")
  List<Booking> paidWithVessel();

  @Lock(LockModeType.PESSIMISTIC_READ)
  @QueryHints(@QueryHint(name = "jakarta.persistence.lock.timeout", value = "100"))
  Optional<Booking> findWithLockById(Long id);

  @Lock(LockModeType.OPTIMISTIC_FORCE_INCREMENT)
  @Query("select b from Booking b where b.id = :id")
  Optional<Booking> locked(@Param("id") Long id);

  @Query(
      "select new dev.colonnade.query.jpql.port.StayRepository$Totals(b.cargoTons, b.paid)"
          + " from Booking b where b.status = ?1")
  List<Totals> totals(Status status);

  @Query("select b.vessel.name as name, count(b) as number from Booking b group by b.vessel.name")
  List<Counted> perVessel();

  @Query(
      "select b.vessel.owner.name, sum(b.cargoTons) from Booking b group by b.vessel.owner.name"
          + " having sum(b.cargoTons) > ?1")
  List<Object[]> perOwner(long tons);

  @Query("select b from Booking b where b.reference like ?1%")
  List<Booking> startsWith(String start);

  @Query("select b from Booking b where b.reference like %?1")
  List<Booking> endsWith(String end);

  @Query("select b from Booking b where lower(b.reference) like lower(concat('%', :part, '%'))")
  Page<Booking> containsPart(@Param("part") String part, Pageable page);

  @Query(
      "select b from Booking b where (:ref is null or b.reference = :ref) and (:paid is null or"
          + " b.paid = :paid)")
  Page<Booking> optional(@Param("ref") String ref, @Param("paid") Boolean paid, Pageable page);

  @Query(
      "select b from Booking b join fetch b.vessel v left join fetch v.owner where v.name = :name")
  Page<Booking> fetched(@Param("name") String name, Pageable page);

  @Query("select distinct b.status from Booking b where b.paid = true")
  Page<Status> statuses(Pageable page);

  @Query("select b.vessel from Booking b where b.paid = :#{true}")
  List<Vessel> vesselsOfPaid();

  @Query("select b from Booking b where b.reference = ?#{'x'}")
  List<Booking> expression();

  @Query("select b from Booking b where b.reference = ?#{[0]} and b.paid = ?2")
  List<Booking> expressionOfArgument(String reference, boolean paid);

  @Query("select b from #{#entityName} b where b.reference in :#{#references}")
  List<Booking> expressionList(@Param("references") List<String> references);

  @Query(
      "select b from Booking b where b.vessel in (select v from Vessel v where v.length > :length)")
  List<Booking> sub(@Param("length") double length);

  @Query(
      "select b from Booking b where exists (select 1 from Note n where n.booking = b and n.text is"
          + " not null)")
  List<Booking> noted(Sort sort);

  @Query("select b from Booking b where :pilot member of b.pilots")
  List<Booking> member(@Param("pilot") Pilot pilot);

  @Query("select b from Booking b where size(b.notes) > 3 order by b.arrival desc limit 5")
  List<Booking> many();

  @Query(
      "select case when count(b) > 0 then true else false end from Booking b where b.reference ="
          + " ?1")
  boolean known(String reference);

  @Query("select max(b.arrival) from Booking b where b.vessel.id = ?1")
  LocalDateTime latest(Long vessel);

  @Query("select coalesce(sum(i.total), 0) from Invoice i where i.booking.vessel.owner.id = ?1")
  BigDecimal owed(Long owner);

  @Query("select b from Booking b left join b.invoice i on i.total > 10 where i is null")
  List<Booking> unpaid();

  @Query("select b, v from Booking b, Vessel v where b.vessel = v and v.flag = ?1")
  List<Object[]> pairs(Flag flag);

  @Query("select b from Booking b where b.status = dev.colonnade.query.jpql.port.Status.CONFIRMED")
  List<Booking> confirmed();

  @Query("select b from Booking b where treat(b.vessel as Tug).bollardPull > ?1")
  List<Booking> ofTugs(int pull);

  @Query("select n.booking.id, n.line from Note n where n.booking.reference = ?1")
  List<Object[]> notes(String reference);

  @Query(value = "select b from Booking b where b.paid = true", countProjection = "b.id")
  Page<Booking> counted(Pageable page);

  @Modifying(clearAutomatically = true, flushAutomatically = true)
  @Query("update Booking b set b.status = ?1, b.cargoTons = b.cargoTons + 1 where b.id in ?2")
  int advance(Status status, List<Long> ids);

  @Modifying
  @Query("update Booking set paid = true where vessel.id = ?1")
  int payAll(Long vessel);

  @Modifying
  @Query("delete from Note n where n.booking.id = ?1")
  void forgetNotes(Long booking);

  @Modifying
  @Query(
      "delete from Booking b where b.vessel.id in (select v.id from Vessel v where v.owner.id ="
          + " ?1)")
  void forgetOf(Long owner);

  @Query(value = "select * from Booking b where b.reference like %:part%", nativeQuery = true)
  List<Booking> plainLike(@Param("part") String part);

  @Query(value = "select * from Booking b where b.paid = true", nativeQuery = true)
  Page<Booking> plainPaged(Pageable page);

  @NativeQuery(value = "select * from #{#entityName} b where b.paid = ?1 order by b.arrival")
  Slice<Booking> plainSlice(boolean paid, Pageable page);

  @Modifying
  @NativeQuery("update Booking set paid = :#{#paid} where reference = :ref")
  int plainPay(@Param("ref") String ref, @Param("paid") boolean paid);

  default List<Booking> twice() {
    return paidWithVessel();
  }

  /** Two values. */
  record Totals(Integer cargoTons, boolean paid) {}

  /** A nested one. */
  interface VesselOnly {
    Vessel getVessel();
  }

  /** One that may need all. */
  interface OpenOne {
    @org.springframework.beans.factory.annotation.Value("#{target.reference + 1}")
    String getText();
  }

  /** Number for a name. */
  interface Counted {
    String getName();

    long getNumber();
  }

  /** A class with one constructor. */
  final class NameAndArrival {
    final String reference;
    final LocalDateTime arrival;

    public NameAndArrival(String reference, LocalDateTime arrival) {
      this.reference = reference;
      this.arrival = arrival;
    }
  }
}
