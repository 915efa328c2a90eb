package dev.colonnade.query.jpql.repair;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.CrudRepository;

/** Shifts. */
public interface ShiftRepository extends CrudRepository<Shift, ShiftId> {
  List<Shift> findByWorkerIdAndDayBetween(Long worker, LocalDate from, LocalDate to);

  List<Shift> findByWorkerLastNameOrderByDayDesc(String name);

  List<Shift> findByWorker_Manager(Worker manager);

  boolean existsByWorkerAndDay(Worker worker, LocalDate day);

  int deleteByDayBefore(LocalDate day);

  @Query("select s from Shift s where s.startsAt < :at and s.endsAt > :at and s.day = current_date")
  List<Shift> now(LocalTime at);
}
