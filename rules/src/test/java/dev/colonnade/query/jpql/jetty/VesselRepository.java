package dev.colonnade.query.jpql.jetty;

import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.springframework.data.domain.Page;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Slice;
import org.springframework.data.domain.Sort;
import org.springframework.data.jdbc.core.mapping.AggregateReference;
import org.springframework.data.relational.core.sql.LockMode;
import org.springframework.data.relational.repository.Lock;
import org.springframework.data.repository.ListCrudRepository;
import org.springframework.data.repository.ListPagingAndSortingRepository;

/** Vessels with their parts. */
public interface VesselRepository
    extends ListCrudRepository<Vessel, Long>, ListPagingAndSortingRepository<Vessel, Long> {
  List<Vessel> findByName(String name);

  Optional<Vessel> findFirstByCallSignOrderByRegisteredAtDesc(String callSign);

  List<Vessel> findTop3ByFlag(Flag flag);

  List<Vessel> readByNameAndFlagOrTonnageLessThan(String name, Flag flag, int tons);

  List<Vessel> getByTonnageBetweenOrderByNameAscTonnageDesc(int from, int to);

  List<Vessel> queryByNameLike(String pattern);

  List<Vessel> queryByNameNotLike(String pattern);

  List<Vessel> searchByNameStartingWith(String start);

  List<Vessel> findByNameEndingWith(String end);

  List<Vessel> findByNameContaining(String part);

  List<Vessel> findByNameNotContaining(String part);

  List<Vessel> findByNameIgnoreCase(String name);

  List<Vessel> findByNameAndCallSignAllIgnoreCase(String name, String callSign);

  List<Vessel> findByFlagIn(Collection<Flag> flags);

  List<Vessel> findByFlagNotIn(Collection<Flag> flags);

  List<Vessel> findByActiveTrue();

  List<Vessel> findByActiveFalse();

  List<Vessel> findByTonnageIsNull();

  List<Vessel> findByTonnageIsNotNull();

  List<Vessel> findByNameNot(String name);

  List<Vessel> findByRegisteredAtBefore(LocalDateTime time);

  List<Vessel> findByRegisteredAtAfter(LocalDateTime time);

  List<Vessel> findByLengthMetresGreaterThan(BigDecimal metres);

  List<Vessel> findByTonnageLessThanEqual(int tons);

  List<Vessel> findByOwnerFullName(String name);

  List<Vessel> findByOwner_Address_CityOrderByOwnerAddressPostalCode(String city);

  List<Vessel> findByHomeBerth(AggregateReference<Berth, Long> berth);

  Page<Vessel> findByFlag(Flag flag, Pageable page);

  Slice<Vessel> findSliceByFlag(Flag flag, Pageable page);

  List<Vessel> findByFlagOrderByName(Flag flag, Pageable page);

  List<Vessel> findByCallSign(String callSign, Sort sort);

  Stream<Vessel> streamByActive(boolean active);

  @Lock(LockMode.PESSIMISTIC_WRITE)
  Optional<Vessel> findByCallSign(String callSign);

  boolean existsByCallSign(String callSign);

  long countByFlag(Flag flag);

  int countByActiveTrueAndNameStartingWith(String start);
}
