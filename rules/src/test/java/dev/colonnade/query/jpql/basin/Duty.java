package dev.colonnade.query.jpql.basin;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;

/** Who has to look after a basin on which days; the class of its key says in which columns. */
@Entity
@IdClass(DutyId.class)
public class Duty {
  @Id Basin basin;
  @Id Pier pier;

  @Id
  @Column(name = "day_of_duty")
  int day;

  String note;
}
