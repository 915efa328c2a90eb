package dev.colonnade.query.jpql.jetty;

import java.util.List;
import java.util.Optional;
import org.springframework.data.repository.CrudRepository;
import org.springframework.data.repository.NoRepositoryBean;

/** What repositories of things with a code have in common. */
@NoRepositoryBean
public interface CodedRepository<T, K> extends CrudRepository<T, K> {
  Optional<T> findByCode(String code);

  List<T> findByCodeIn(List<String> codes);
}
