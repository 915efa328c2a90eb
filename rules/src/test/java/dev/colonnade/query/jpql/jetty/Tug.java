package dev.colonnade.query.jpql.jetty;

import java.time.LocalDate;
import org.springframework.data.annotation.Id;
import org.springframework.data.annotation.Version;
import org.springframework.data.relational.core.mapping.Column;
import org.springframework.data.relational.core.mapping.Table;

/** A tug, kept without waiting. */
@Table("TUG_BOAT")
public class Tug {
  @Id Long tugNumber;
  @Version Long changes;
  String name;

  @Column("PULL")
  int bollardPull;

  boolean afloat;
  LocalDate docked;

  /** A new one. */
  public static Tug named(String name) {
    Tug result = new Tug();
    result.name = name;
    return result;
  }

  /** What identifies it. */
  public Long number() {
    return tugNumber;
  }
}
