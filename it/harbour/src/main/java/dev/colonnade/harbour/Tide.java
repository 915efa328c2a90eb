package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.io.Serializable;
import java.time.OffsetDateTime;

/** One reading of a tide gauge. */
@Entity
@Table(name = "tide")
public class Tide {
  @EmbeddedId private Reading reading;

  @Column(name = "height_cm", nullable = false)
  private int height;

  protected Tide() {}

  public int getHeight() {
    return height;
  }

  /** Which gauge, and when. */
  @Embeddable
  public record Reading(short station, @Column(name = "measured_at") OffsetDateTime measuredAt)
      implements Serializable {}
}
