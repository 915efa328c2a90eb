package dev.colonnade.query.jpql.port;

import java.math.BigDecimal;
import java.util.List;

/** Invoices and what is below them in one table. */
public interface InvoiceRepository extends BaseRepository<Invoice> {
  List<Invoice> findByTotalGreaterThan(BigDecimal total);

  List<Invoice> findByBookingVesselName(String name);
}
