package dev.colonnade.harbour;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import java.math.BigDecimal;
import java.time.LocalDate;

/** One charge for the use of a berth: quay dues, water, waste, electricity. */
@Entity
@Table(name = "harbour_fee")
public class HarbourFee {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "berth_id")
  private Berth berth;

  @ManyToOne(fetch = FetchType.LAZY)
  @JoinColumn(name = "invoice_id")
  private Invoice invoice;

  @Column(nullable = false)
  private String kind;

  @Column(nullable = false)
  private BigDecimal amount;

  @Column(name = "charged_on", nullable = false)
  private LocalDate chargedOn;

  protected HarbourFee() {}

  public Long getId() {
    return id;
  }
}
