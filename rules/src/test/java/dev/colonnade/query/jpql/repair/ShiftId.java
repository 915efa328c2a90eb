package dev.colonnade.query.jpql.repair;

import java.io.Serializable;
import java.time.LocalDate;
import java.util.Objects;

/** The key of a shift. */
public class ShiftId implements Serializable {
  private static final long serialVersionUID = 1L;
  Long worker;
  LocalDate day;

  public ShiftId() {}

  public ShiftId(Long worker, LocalDate day) {
    this.worker = worker;
    this.day = day;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof ShiftId id && id.worker.equals(worker) && id.day.equals(day);
  }

  @Override
  public int hashCode() {
    return Objects.hash(worker, day);
  }
}
