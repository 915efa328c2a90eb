package dev.colonnade.query.jpql.jetty;

import java.math.BigDecimal;
import org.springframework.data.annotation.Id;
import org.springframework.data.relational.core.mapping.Column;

/** What is paid before: one row, with an identifier. */
public class Deposit {
  @Id Long id;
  BigDecimal amount;

  @Column("RECEIPT_FOR")
  Receipt receipt;
}
