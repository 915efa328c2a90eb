package dev.colonnade.harbour;

import java.time.OffsetDateTime;
import java.util.List;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.repository.query.Param;

/** Readings of the tide gauges. */
public interface TideRepository extends JpaRepository<Tide, Tide.Reading> {

  /** The next readings of a gauge. */
  @NativeQuery(
      """
      select *
      from tide
      where station = :station
        and measured_at >= :from
      order by measured_at
      limit 36
      """)
  List<Tide> next(@Param("station") short station, @Param("from") OffsetDateTime from);

  /** All gauges at one moment. */
  @NativeQuery("select * from tide where measured_at = :moment")
  List<Tide> at(@Param("moment") OffsetDateTime moment);
}
