package dev.colonnade.query.jpql.jetty;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.springframework.data.repository.Repository;

/** Bookings: a repository that says itself what it has. */
public interface BookingRepository extends Repository<Booking, Long> {
  Optional<Booking> findById(Long id);

  List<Booking> findAll();

  long count();

  boolean existsById(Long id);

  void deleteById(Long id);

  Booking save(Booking booking);

  List<Booking> findByVesselIdAndArrivalLessThanEqualAndDepartureGreaterThanEqual(
      Long vessel, LocalDate from, LocalDate to);

  List<Booking> findByStateOrderByArrival(String state);

  boolean existsByReference(String reference);

  void deleteByState(String state);
}
