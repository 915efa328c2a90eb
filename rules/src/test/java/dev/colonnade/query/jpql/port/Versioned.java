package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.NoRepositoryBean;

/** What repositories here have in common, with the type of the key first. */
@NoRepositoryBean
public interface Versioned<I, T> extends JpaRepository<T, I> {
  List<T> findByVersionGreaterThan(int version);

  @Modifying
  @Query("update #{#entityName} e set e.version = 0 where e.id = ?1")
  int reset(I id);
}
