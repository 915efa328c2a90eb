package dev.colonnade.query.jpql.port;

import java.util.List;

/** Vessels, with those below them. */
public interface VesselRepository extends BaseRepository<Vessel> {
  List<Vessel> findByNameOrderByLengthDesc(String name);

  List<Vessel> findByOwner_Name(String name);

  List<Vessel> findByOwnerBillingCityAndFlagIn(String city, List<Flag> flags);

  List<Vessel> findByBookingsReference(String reference);

  List<Vessel> findByNicknamesContaining(String name);

  List<Vessel> findByNicknames(String name);

  boolean existsByFlagAndLengthLessThan(Flag flag, double length);
}
