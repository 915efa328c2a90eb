package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Embeddable;
import java.io.Serializable;

/** A line of an order. */
@Embeddable
public record TaskId(Long orderId, int line) implements Serializable {}
