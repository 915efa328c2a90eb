package dev.colonnade.query.jpql.repair;

import java.util.Collection;
import java.util.Date;
import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.Query;

/** Workers. */
public interface WorkerRepository extends AuditedRepository<Worker> {
  List<Worker> findByLastNameAndFirstNameAllIgnoreCase(String last, String first);

  List<Worker> findBySkillsContains(Skill skill);

  List<Worker> findBySkillsIn(Collection<Skill> skills);

  List<Worker> findBySkillsIsEmpty();

  List<Worker> findByManagerManagerLastName(String name);

  List<Worker> findByManagerIsNullOrderByLastNameAscFirstNameAsc();

  List<Worker> findByHiredOnBetween(Date from, Date to);

  Optional<Worker> findByBadgeCode(String code);

  Optional<Worker> findByBadge_WorkerId(Long id);

  List<Worker> findByShiftsDayAndShiftsStartsAtBefore(
      java.time.LocalDate day, java.time.LocalTime time);

  @Query("select w from #{#entityName} w where :skill member of w.skills")
  List<Worker> able(Skill skill);

  @Query(
      "select w from Hand w where (select count(s) from Shift s where s.worker = w) >= all (select"
          + " count(t) from Shift t group by t.worker)")
  List<Worker> busiest();

  @Query(
      "select concat(w.lastName, ', ', w.firstName) from Hand w where size(w.skills) > 1 and w.id"
          + " <> w.manager.id")
  List<String> names();
}
