package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.math.BigDecimal;

/** A vessel that has called or wants to call. */
@Entity
@Table(name = "vessel")
public class Vessel {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @Column(name = "imo_number", nullable = false, unique = true)
  private String imoNumber;

  @Column(nullable = false)
  private String name;

  @Column(name = "call_sign")
  private String callSign;

  @Column(nullable = false)
  private String flag;

  @Column(name = "length_m", nullable = false)
  private BigDecimal length;

  @Column(name = "draught_m", nullable = false)
  private BigDecimal draught;

  private String owner;

  protected Vessel() {}

  public Long getId() {
    return id;
  }
}
