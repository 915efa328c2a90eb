package dev.colonnade.harbour;

import java.math.BigDecimal;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Berths by code, and those that are free. */
public interface BerthRepository extends JpaRepository<Berth, Long> {

  @NativeQuery("select * from #{#entityName} where code = :code")
  Optional<Berth> withCode(@Param("code") String code);

  /** Berths that can take the vessel and that nobody has booked for the stay. */
  @NativeQuery(
      """
      select be.*
      from berth be
      where be.in_service = true
        and be.max_length_m >= :length
        and be.max_draught_m >= :draught
        and not exists (
          select 1
          from booking b
          where b.berth_id = be.id
            and b.arrival < :departure
            and b.departure > :arrival
            and b.status <> 'CANCELLED')
      order by be.max_length_m
      """)
  List<Berth> free(
      @Param("length") BigDecimal length,
      @Param("draught") BigDecimal draught,
      @Param("arrival") OffsetDateTime arrival,
      @Param("departure") OffsetDateTime departure);

  @Query("select b from Berth b where b.quay = :quay and b.inService = true")
  List<Berth> inServiceAt(@Param("quay") String quay);
}
