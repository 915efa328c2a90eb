package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.ListCrudRepository;
import org.springframework.data.repository.NoRepositoryBean;

/** What repositories here have in common. */
@NoRepositoryBean
public interface BaseRepository<T> extends ListCrudRepository<T, Long> {
  List<T> findByVersion(int version);

  @Query("select e from #{#entityName} e where e.version > ?1")
  List<T> changedSince(int version);
}
