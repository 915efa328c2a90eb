package dev.colonnade.query.jpql.basin;

import java.util.List;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** Traffic. */
public interface TrafficRepository extends JpaRepository<Traffic, Long> {
  List<Traffic> findByVisitsGreaterThanOrderByVisitsDesc(long visits);

  Page<Traffic> findByCodeStartingWith(String start, Pageable page);

  boolean existsByCode(String code);

  List<Traffic> findByBasinDepthGreaterThan(double depth);

  @Query("select t.code, v.id from Traffic t join Visit v on v.slot.basin.id = t.id")
  List<Object[]> withVisits();

  @Query("select b from Basin b where b.id in (select t.id from Traffic t where t.visits > 3)")
  List<Basin> busy();
}
