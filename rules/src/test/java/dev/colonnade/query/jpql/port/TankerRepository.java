package dev.colonnade.query.jpql.port;

import java.util.List;

/** One class of vessels. */
public interface TankerRepository extends BaseRepository<Tanker> {
  List<Tanker> findByTanksGreaterThanAndName(int tanks, String name);
}
