package dev.colonnade.query.jpql.shoal;

import java.util.List;
import org.springframework.data.repository.CrudRepository;

/** Names that conditions cannot be made of, beside one that they can. */
interface BuoyRepository extends CrudRepository<Buoy, Long> {
  List<Buoy> findByName(String name);

  List<Buoy> findByMarksLight(String light);

  List<Buoy> findByHeight(int height);

  List<Buoy> findByNameMatchesRegex(String pattern);
}
