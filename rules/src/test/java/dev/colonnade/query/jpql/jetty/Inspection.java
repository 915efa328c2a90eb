package dev.colonnade.query.jpql.jetty;

import java.time.LocalDate;

/** A look at a certificate: rows in an order. */
public record Inspection(LocalDate heldOn, String inspector) {}
