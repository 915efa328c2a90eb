package dev.colonnade.query.jpql.shoal;

import java.util.List;
import org.springframework.data.repository.CrudRepository;

/** For what is no aggregate. */
interface ChartRepository extends CrudRepository<Chart, Long> {
  List<Chart> findByScale(int scale);
}
