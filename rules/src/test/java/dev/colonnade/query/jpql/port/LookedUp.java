package dev.colonnade.query.jpql.port;

import java.io.Serializable;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.jpa.repository.JpaSpecificationExecutor;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.NoRepositoryBean;

/** What repositories here have in common, one level above {@link Versioned}. */
@NoRepositoryBean
public interface LookedUp<E extends Base<K>, K extends Serializable>
    extends Versioned<K, E>, JpaSpecificationExecutor<E> {
  Optional<E> findFirstByIdAndVersion(K id, int version);

  List<E> findAllByIdIn(Collection<K> ids);

  @Query("select e from #{#entityName} e where e.version < :version")
  Page<E> older(int version, Pageable page);
}
