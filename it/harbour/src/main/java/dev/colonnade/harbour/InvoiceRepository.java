package dev.colonnade.harbour;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.NativeQuery;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.query.Param;

/** Invoices: what is owed, and what is overdue. */
public interface InvoiceRepository extends JpaRepository<Invoice, Long> {

  @NativeQuery("select * from invoice where invoice_number = :number")
  Optional<Invoice> withNumber(@Param("number") String number);

  /** How much is overdue. */
  @NativeQuery("select sum(total) from invoice where status = 'OPEN' and due_on < :day")
  BigDecimal overdue(@Param("day") LocalDate day);

  @NativeQuery("select * from invoice where booking_id = :booking and status = 'OPEN'")
  List<Invoice> openOf(@Param("booking") long booking);

  @Query("select i from Invoice i where i.status = 'DRAFT' order by i.issuedOn")
  List<Invoice> drafts();
}
