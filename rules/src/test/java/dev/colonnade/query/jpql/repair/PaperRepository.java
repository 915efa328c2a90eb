package dev.colonnade.query.jpql.repair;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.Query;

/** All papers. */
public interface PaperRepository extends AuditedRepository<Paper> {
  Optional<Paper> findByNumber(String number);

  List<Paper> findByIssuedOnBefore(LocalDate day);

  @Query("select p from Paper p where type(p) = Bill and p.issuedOn < :day")
  List<Paper> bills(LocalDate day);

  @Query("select p from Paper p left join treat(p as Quote).order o where o.state = State.DONE")
  List<Paper> ofFinished();
}
