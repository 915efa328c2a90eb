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

/** What is asked for a call. */
@Entity
@Table(name = "invoice")
public class Invoice {
  @Id
  @GeneratedValue(strategy = GenerationType.IDENTITY)
  private Long id;

  @Column(name = "invoice_number", nullable = false, unique = true)
  private String number;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  @JoinColumn(name = "booking_id")
  private Booking booking;

  @Column(nullable = false)
  private String status;

  @Column(name = "issued_on", nullable = false)
  private LocalDate issuedOn;

  @Column(name = "due_on", nullable = false)
  private LocalDate dueOn;

  @Column(nullable = false)
  private BigDecimal total;

  protected Invoice() {}

  public Long getId() {
    return id;
  }
}
