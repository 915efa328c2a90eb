package dev.colonnade.query.jpql.jetty;

import java.time.LocalDate;
import java.util.Collection;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Sort;
import org.springframework.data.r2dbc.repository.Modifying;
import org.springframework.data.r2dbc.repository.Query;
import org.springframework.data.r2dbc.repository.R2dbcRepository;
import reactor.core.publisher.Flux;
import reactor.core.publisher.Mono;

/** Tugs. */
public interface TugRepository extends R2dbcRepository<Tug, Long> {
  Flux<Tug> findByName(String name);

  Flux<Tug> findByBollardPullGreaterThanAndAfloatTrueOrderByBollardPullDesc(int pull);

  Flux<Tug> findByNameContainingIgnoreCase(String part);

  Flux<Tug> findByNameStartingWithOrDockedBefore(String start, LocalDate day);

  Flux<Tug> findByNameIn(Collection<String> names);

  Flux<Tug> findTop5ByAfloatFalseOrderByDocked();

  Flux<Tug> findDistinctByDockedBetween(LocalDate from, LocalDate to);

  Flux<Tug> findByDockedIsNull(Pageable page);

  Flux<Tug> findByAfloat(boolean afloat, Sort sort);

  Flux<TugName> findNamesByAfloat(boolean afloat);

  Mono<Boolean> existsByName(String name);

  Mono<Long> countByAfloat(boolean afloat);

  Mono<Integer> deleteByName(String name);

  @Query("select * from TUG_BOAT where pull > :pull")
  Flux<Tug> strong(int pull);

  @Modifying
  @Query("update TUG_BOAT set afloat = false where name = :name")
  Mono<Integer> dock(String name);
}
