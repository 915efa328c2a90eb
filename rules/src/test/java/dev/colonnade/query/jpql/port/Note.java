package dev.colonnade.query.jpql.port;

import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.ManyToOne;
import java.io.Serializable;
import java.time.LocalDateTime;
import java.util.Objects;

/** A line about a booking, known by the booking and a number. */
@Entity
@IdClass(Note.Key.class)
public class Note {
  @Id
  @ManyToOne(fetch = FetchType.LAZY)
  Booking booking;

  @Id int line;
  LocalDateTime written;
  String text;

  /** The identifier. */
  public static class Key implements Serializable {
    private static final long serialVersionUID = 1L;

    Long booking;
    int line;

    @Override
    public boolean equals(Object other) {
      return other instanceof Key key && line == key.line && Objects.equals(booking, key.booking);
    }

    @Override
    public int hashCode() {
      return Objects.hash(booking, line);
    }
  }
}
