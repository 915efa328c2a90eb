package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import java.math.BigDecimal;

/** An amount in a currency. */
@Embeddable
public record Money(BigDecimal amount, @Column(length = 3) String currency) {}
