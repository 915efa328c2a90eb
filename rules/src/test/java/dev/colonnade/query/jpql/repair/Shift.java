package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.ManyToOne;
import java.time.LocalDate;
import java.time.LocalTime;

/** When a worker is there: known by worker and day. */
@Entity
@IdClass(ShiftId.class)
public class Shift {
  @Id
  @ManyToOne(fetch = FetchType.LAZY)
  Worker worker;

  @Id
  @Column(name = "work_day")
  LocalDate day;

  LocalTime startsAt;
  LocalTime endsAt;
}
