package dev.colonnade.query.jpql.basin;

import java.util.List;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;

/** Duties, whose id class carries the mapping of the key. */
public interface DutyRepository extends Repository<Duty, DutyId> {
  List<Duty> findByDay(int day);

  List<Duty> findByPierNameAndDayLessThan(String name, int day);

  @Query("select d from Duty d join d.basin b where b.code = :code and d.pier.id = :pier")
  List<Duty> of(String code, Long pier);

  @Query("select p from Pier p join p.duties d where d.day = :day")
  List<Pier> piersOn(int day);
}
