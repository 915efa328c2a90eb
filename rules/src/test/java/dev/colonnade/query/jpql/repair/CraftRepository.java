package dev.colonnade.query.jpql.repair;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** All that floats. */
public interface CraftRepository extends JpaRepository<Craft, UUID> {
  Optional<Craft> findByHullNumber(String number);

  List<Craft> findByTonnageBetweenOrderByTonnageDesc(double least, double most);

  List<Craft> findByLastSeenLatitudeGreaterThanAndLastSeenLongitudeLessThan(double a, double b);

  @Query("select y from Yacht y join y.owner o where o.credit.amount > 1000 and y.masts >= 2")
  List<Yacht> richYachts();

  @Query("select c.hullNumber from Craft c where type(c) <> Yacht")
  List<String> hullsOfOthers();

  long countByTonnageGreaterThan(double tonnage);
}
