package dev.colonnade.query.jpql.jetty;

import org.springframework.data.relational.core.mapping.Embedded;

/** Whose a vessel is. */
public record Owner(String fullName, @Embedded.Nullable(prefix = "ADDRESS_") Address address) {}
