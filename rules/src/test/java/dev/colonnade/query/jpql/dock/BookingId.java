package dev.colonnade.query.jpql.dock;

import java.io.Serializable;
import java.util.Objects;

/** The key of a booking. */
public class BookingId implements Serializable {
  private static final long serialVersionUID = 1;

  transient Vessel vessel;
  int no;

  @Override
  public boolean equals(Object other) {
    return other instanceof BookingId that && no == that.no && vessel == that.vessel;
  }

  @Override
  public int hashCode() {
    return Objects.hash(no);
  }
}
