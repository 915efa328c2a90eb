package dev.colonnade.query.jpql.repair;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.JpaSpecificationExecutor;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.NoRepositoryBean;

/** What all repositories of audited rows can do. */
@NoRepositoryBean
public interface AuditedRepository<E extends Audited>
    extends JpaRepository<E, Long>, JpaSpecificationExecutor<E> {
  List<E> findByCreatedByAndCreatedAtAfterOrderByCreatedAtDesc(String who, Instant since);

  Page<E> findAllByUpdatedAtIsNull(Pageable page);

  @Query("select e from #{#entityName} e where e.createdAt between :from and :to")
  List<E> createdBetween(Instant from, Instant to);

  @Query("select max(e.updatedAt) from #{#entityName} e where e.createdBy = ?#{'x'}")
  Optional<Instant> lastChange();

  @Modifying
  @Query("update #{#entityName} e set e.createdBy = :who where e.id in :ids")
  int claim(String who, List<Long> ids);
}
