package dev.colonnade.query.jpql.dock;

/** A charge that was taken back. */
public class CreditNote extends Charge {
  Invoice invoice;
}
