package dev.colonnade.query.jpql.dock;

import java.math.BigDecimal;

/** What is to be paid. */
public abstract class Charge {
  Long id;
  BigDecimal amount;
  Booking booking;
}
