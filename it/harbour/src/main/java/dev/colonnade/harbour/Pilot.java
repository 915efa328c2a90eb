package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;

/** Somebody licensed to bring vessels in. */
@Entity
@Table(name = "pilot")
public class Pilot {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @Column(nullable = false, unique = true)
  private String licence;

  @Column(nullable = false)
  private String name;

  @Column(nullable = false)
  private short grade;

  @Column(nullable = false)
  private boolean active = true;

  protected Pilot() {}

  public Long getId() {
    return id;
  }
}
