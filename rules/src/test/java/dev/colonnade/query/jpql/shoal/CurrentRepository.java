package dev.colonnade.query.jpql.shoal;

import java.util.List;
import org.springframework.data.repository.CrudRepository;

/** For what has no table. */
interface CurrentRepository extends CrudRepository<Current, Long> {
  List<Current> findByKnots(double knots);
}
