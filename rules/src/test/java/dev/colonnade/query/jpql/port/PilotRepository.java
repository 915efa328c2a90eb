package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.repository.CrudRepository;

/** Pilots, whose licence lies in a second table. */
public interface PilotRepository extends CrudRepository<Pilot, Long> {
  List<Pilot> findByLicence(String licence);

  List<Pilot> findByNameOrderByLicence(String name);

  List<Pilot> findByBookingsVesselName(String name);
}
