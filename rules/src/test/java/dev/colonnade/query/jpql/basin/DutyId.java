package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import java.io.Serializable;
import java.util.Objects;

/** The key of a duty, with the mapping of its parts. */
public class DutyId implements Serializable {
  private static final long serialVersionUID = 1L;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "basin_no")
  Basin basin;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "pier_no")
  Pier pier;

  @Column(name = "duty_day")
  int day;

  @Override
  public boolean equals(Object other) {
    return other instanceof DutyId id
        && Objects.equals(id.basin, basin)
        && Objects.equals(id.pier, pier)
        && id.day == day;
  }

  @Override
  public int hashCode() {
    return day;
  }
}
