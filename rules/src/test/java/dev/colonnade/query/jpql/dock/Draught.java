package dev.colonnade.query.jpql.dock;

import java.math.BigDecimal;

/** How deep a vessel lies. */
public class Draught {
  BigDecimal full;
  BigDecimal empty;
}
