package dev.colonnade.query.jpql.dock;

import java.io.Serializable;
import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.util.Objects;

/** Two parts of a key of its own. */
public class Tide implements Serializable {
  private static final long serialVersionUID = 1;

  String station;
  LocalDateTime at;
  BigDecimal level;

  @Override
  public boolean equals(Object other) {
    return other instanceof Tide that && station.equals(that.station) && at.equals(that.at);
  }

  @Override
  public int hashCode() {
    return Objects.hash(station, at);
  }
}
