package dev.colonnade.query.jpql.repair;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import org.springframework.data.jpa.repository.Query;

/** Quotes. */
public interface QuoteRepository extends AuditedRepository<Quote> {
  List<Quote> findByValidUntilGreaterThanEqualAndTotalAmountLessThan(LocalDate a, BigDecimal b);

  List<Quote> findByOrderOrderNumber(String number);

  List<Quote> findByOrder_Client_NameOrderByTotalAmountDescNumberAsc(String name);

  List<Quote> findByOrderCraftHullNumberAndIssuedOnAfter(String hull, LocalDate day);

  long countByTotal_CurrencyNot(String currency);

  void deleteByValidUntilBefore(LocalDate day);

  @Query(
      "select q from Quote q where q.total.amount = (select max(r.total.amount) from Quote r where"
          + " r.order = q.order)")
  List<Quote> dearest();
}
