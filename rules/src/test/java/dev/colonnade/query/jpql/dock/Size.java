package dev.colonnade.query.jpql.dock;

import java.math.BigDecimal;

/** How much room a vessel takes. */
public class Size {
  BigDecimal length;
  BigDecimal width;
  Draught draught;
}
