package dev.colonnade.harbour;

import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Bookings: the plan of a berth, the screens of pilots and clerks. */
public interface BookingRepository extends JpaRepository<Booking, Long> {
  String EXPECTED = "'EXPECTED'";

  @Query(value = "select * from booking where reference = :reference", nativeQuery = true)
  Optional<Booking> withReference(@Param("reference") String reference);

  /** The plan of a berth. */
  @NativeQuery(
      """
      select *
      from booking
      where berth_id = :berth
        and arrival >= :from
        and arrival < :until
      order by arrival
      """)
  List<Booking> plan(
      @Param("berth") long berth,
      @Param("from") OffsetDateTime from,
      @Param("until") OffsetDateTime until);

  /** The pilots' screen: who is expected from now on. */
  @NativeQuery("select * from booking where status = " + EXPECTED + " and arrival >= :now")
  List<Booking> expected(@Param("now") OffsetDateTime now);

  /** The latest calls of a vessel. */
  @NativeQuery("select * from booking where vessel_id = :vessel order by arrival desc limit 20")
  List<Booking> latestOf(@Param("vessel") long vessel);

  @NativeQuery(
      value = "select * from booking where pilot_id = :pilot",
      countQuery = "select count(*) from booking where pilot_id = :pilot")
  Page<Booking> ofPilot(@Param("pilot") long pilot, Pageable page);

  @NativeQuery("select * from booking where cast(arrival as date) = :day")
  List<Booking> arrivingOn(@Param("day") LocalDate day);

  /** Requests that nobody answered lapse. */
  @Modifying
  @Query(
      value =
          "update booking set status = 'LAPSED' where status = 'REQUESTED' and created_at < :before",
      nativeQuery = true)
  int lapseRequests(@Param("before") OffsetDateTime before);

  @Query(
      """
      select b
      from Booking b
      where b.vessel.id = :vessel
        and b.arrival < :departure
        and b.departure > :arrival
      """)
  List<Booking> overlapping(
      @Param("vessel") long vessel,
      @Param("arrival") OffsetDateTime arrival,
      @Param("departure") OffsetDateTime departure);

  /** The clerk's list: all bookings, or those of one berth, one pilot, or both. */
  @NativeQuery(
      """
      select *
      from booking
      where (cast(:berth as bigint) is null or berth_id = :berth)
        and (cast(:pilot as bigint) is null or pilot_id = :pilot)
      """)
  List<Booking> listed(@Param("berth") Long berth, @Param("pilot") Long pilot);

  /** The clerk's search by whatever number the caller has at hand. */
  @NativeQuery(
      """
      select b.*
      from booking b
      join vessel v on v.id = b.vessel_id
      where b.reference = :number
         or v.imo_number = :number
      """)
  List<Booking> withNumber(@Param("number") String number);

  long countByBerthIdAndStatus(long berth, String status);
}
