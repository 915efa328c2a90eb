package dev.colonnade.query.jpql.dock;

/** A charge that was sent. */
public class Invoice extends Charge {
  String no;
}
