package dev.colonnade.query.jpql.jetty;

import java.time.LocalDate;
import java.util.List;
import org.springframework.data.annotation.Id;
import org.springframework.data.relational.core.mapping.Table;

/** A stay that is booked. */
@Table(name = "STAY")
public class Booking {
  @Id Long id;
  String reference;
  Long vesselId;
  Long berthId;
  LocalDate arrival;
  LocalDate departure;
  String state;
  boolean paid;
  Deposit deposit;
  List<Remark> remarks;

  /** One with a row in each table. */
  public static Booking laden() {
    Booking result = new Booking();
    result.reference = "B-1";
    result.deposit = new Deposit();
    result.deposit.receipt = new Receipt("Lund");
    result.remarks = List.of(new Remark("late", "Lund"));
    return result;
  }

  /** What identifies it. */
  public Long number() {
    return id;
  }
}
