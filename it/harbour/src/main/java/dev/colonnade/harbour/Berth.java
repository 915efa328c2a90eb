package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.math.BigDecimal;

/** A place at a quay where one vessel lies. */
@Entity
@Table(name = "berth")
public class Berth {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @Column(nullable = false, unique = true)
  private String code;

  @Column(nullable = false)
  private String quay;

  @Column(name = "max_length_m", nullable = false)
  private BigDecimal maximumLength;

  @Column(name = "max_draught_m", nullable = false)
  private BigDecimal maximumDraught;

  @Column(name = "in_service", nullable = false)
  private boolean inService = true;

  protected Berth() {}

  public Long getId() {
    return id;
  }
}
