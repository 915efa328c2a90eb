package dev.colonnade.harbour;

import java.time.OffsetDateTime;
import java.util.List;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.repository.query.Param;

/** Who lay where. */
public interface MooringRepository extends JpaRepository<Mooring, Long> {

  @NativeQuery("select * from mooring where booking_id = :booking order by made_fast_at")
  List<Mooring> ofBooking(@Param("booking") long booking);

  /** Everyone who made fast at a berth since. */
  @NativeQuery("select * from mooring where berth_id = :berth and made_fast_at >= :since")
  List<Mooring> since(@Param("berth") long berth, @Param("since") OffsetDateTime since);
}
