package dev.colonnade.query.jpql.port;

import jakarta.persistence.LockModeType;
import java.time.LocalDateTime;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Slice;
import org.springframework.data.domain.Sort;
import org.springframework.data.jpa.repository.EntityGraph;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Stays, asked for in every way that Spring Data JPA has. */
public interface BookingRepository extends JpaRepository<Booking, Long> {
  List<Booking> findByReference(String reference);

  List<Booking> findByreference(String reference);

  Optional<Booking> reference(String reference);

  Booking getByReferenceIs(String reference);

  List<Booking> readByReferenceEquals(String reference);

  List<Booking> queryByReferenceNot(String reference);

  List<Booking> searchByReferenceIsNot(String reference);

  Stream<Booking> streamByPaidTrue();

  List<Booking> findByPaidIsFalse();

  List<Booking> findByArrivalBetween(LocalDateTime from, LocalDateTime to);

  List<Booking> findByArrivalBefore(LocalDateTime at);

  List<Booking> findByArrivalAfterAndDepartureIsBefore(LocalDateTime from, LocalDateTime to);

  List<Booking> findByCargoTonsLessThan(Integer tons);

  List<Booking> findByCargoTonsLessThanEqual(Integer tons);

  List<Booking> findByCargoTonsGreaterThan(Integer tons);

  List<Booking> findByCargoTonsIsGreaterThanEqual(Integer tons);

  List<Booking> findByCargoTonsIsNull();

  List<Booking> findByCargoTonsNotNull();

  List<Booking> findByReferenceLike(String pattern);

  List<Booking> findByReferenceNotLike(String pattern);

  List<Booking> findByReferenceStartingWith(String start);

  List<Booking> findByReferenceEndsWith(String end);

  List<Booking> findByReferenceContaining(String part);

  List<Booking> findByReferenceNotContaining(String part);

  List<Booking> findByStatusIn(Collection<Status> statuses);

  List<Booking> findByStatusNotIn(Collection<Status> statuses);

  List<Booking> findByReferenceIgnoreCase(String reference);

  List<Booking> findByReferenceContainingIgnoreCase(String part);

  List<Booking> findByReferenceInIgnoreCase(Collection<String> references);

  List<Booking> findByReferenceAndStatusAllIgnoreCase(String reference, Status status);

  List<Booking> findByReferenceOrPaidAndStatus(String reference, boolean paid, Status status);

  List<Booking> findByVessel(Vessel vessel);

  List<Booking> findByVesselIn(Collection<Vessel> vessels);

  List<Booking> findByVesselId(Long id);

  List<Booking> findByVessel_Id(Long id);

  List<Booking> findByVesselName(String name);

  List<Booking> findByVessel_Name(String name);

  List<Booking> findByVesselOwnerName(String name);

  List<Booking> findByVesselOwnerSeatCity(String city);

  List<Booking> findByVesselOwnerIsNull();

  List<Booking> findByVesselOwnerId(Long id);

  List<Booking> findByVesselNameAndVesselFlag(String name, Flag flag);

  List<Booking> findByBerthIdQuay(String quay);

  List<Booking> findByBerthIsNull();

  List<Booking> findByBerthDepthGreaterThan(double depth);

  List<Booking> findByPilotsName(String name);

  List<Booking> findByPilotsContaining(Pilot pilot);

  List<Booking> findByPilotsIsEmpty();

  List<Booking> findByNotesIsNotEmpty();

  List<Booking> findDistinctByNotesTextContaining(String part);

  List<Booking> findByInvoiceTotalIsNull();

  Booking findFirstByOrderByArrivalDesc();

  List<Booking> findTop3ByPaidOrderByArrivalDescIdAsc(boolean paid);

  List<Booking> findDistinctTop2ByStatusOrderByReference(Status status);

  List<Booking> findAllByOrderByVesselNameAsc();

  List<Booking> findByPaidOrderByVesselOwnerNameDesc(boolean paid);

  List<Booking> findByStatus(Status status, Sort sort);

  List<Booking> findByStatusAndPaid(Status status, boolean paid, Limit limit);

  List<Booking> findByStatusAndReference(Status status, String reference, Pageable page);

  Page<Booking> findByPaid(boolean paid, Pageable page);

  Page<Booking> findDistinctByVesselName(String name, Pageable page);

  Slice<Booking> findByPaidOrderByArrival(boolean paid, Pageable page);

  long countByStatus(Status status);

  long countDistinctByVesselName(String name);

  boolean existsByReference(String reference);

  boolean existsByVesselOwnerName(String name);

  long deleteByReference(String reference);

  void removeByVesselName(String name);

  @EntityGraph(attributePaths = "vessel")
  List<Booking> findByCargoTons(Integer tons);

  @EntityGraph(attributePaths = {"notes", "vessel.owner"})
  List<Booking> findByPaidAndCargoTons(boolean paid, Integer tons);

  @Lock(LockModeType.PESSIMISTIC_WRITE)
  List<Booking> findByPaidAndReference(boolean paid, String reference);

  List<ReferenceOnly> findByDeparture(LocalDateTime at);

  List<Stay> findByDepartureAfter(LocalDateTime at);

  List<WithVessel> findByDepartureBefore(LocalDateTime at);

  @Query("select b from Booking b where b.reference = ?1")
  List<Booking> written(String reference);

  @Query("select b from #{#entityName} b where b.paid = :paid order by b.arrival")
  Page<Booking> writtenPage(@Param("paid") boolean paid, Pageable page);

  @Query(
      value = "select b from Booking b join fetch b.vessel where b.paid = :paid",
      countQuery = "select count(b) from Booking b where b.paid = :paid")
  Page<Booking> writtenCount(@Param("paid") boolean paid, Pageable page);

  @Query("select distinct b from Booking b left join b.notes n where n.text like %:part%")
  Slice<Booking> writtenSlice(@Param("part") String part, Pageable page);

  @Query("from Booking b where b.status in :statuses")
  List<Booking> writtenIn(@Param("statuses") Collection<Status> statuses);

  @Query("select b.reference as reference from Booking b where b.cargoTons > :tons")
  List<ReferenceOnly> writtenProjection(@Param("tons") Integer tons);

  @Query("select b from Booking b where b.reference = :#{#text.trim()}")
  List<Booking> writtenExpression(@Param("text") String text);

  @Modifying
  @Query("update Booking b set b.paid = true where b.reference = :reference")
  int pay(@Param("reference") String reference);

  @Modifying
  @Query("delete from Booking b where b.arrival < :at")
  int forget(@Param("at") LocalDateTime at);

  @NativeQuery("select * from Booking where reference = :reference")
  List<Booking> plain(@Param("reference") String reference);

  @Query(
      value = "select * from Booking where paid = :paid",
      countQuery = "select count(*) from Booking where paid = :paid",
      nativeQuery = true)
  Page<Booking> plainPage(@Param("paid") boolean paid, Pageable page);

  /** The reference alone. */
  interface ReferenceOnly {
    String getReference();
  }

  /** Two columns. */
  record Stay(LocalDateTime arrival, LocalDateTime departure) {}

  /** Looks into the vessel. */
  interface WithVessel {
    String getReference();

    Name getVessel();

    /** The vessel's name. */
    interface Name {
      String getName();
    }
  }
}
