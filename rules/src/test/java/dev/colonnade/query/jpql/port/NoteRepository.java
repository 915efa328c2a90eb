package dev.colonnade.query.jpql.port;

import java.util.List;
import org.springframework.data.repository.CrudRepository;

/** Notes, known by two attributes. */
public interface NoteRepository extends CrudRepository<Note, Note.Key> {
  List<Note> findByBooking_IdOrderByLine(Long booking);

  List<Note> findByBookingReferenceAndLineGreaterThan(String reference, int line);

  long countByLine(int line);
}
