package dev.colonnade.query.jpql.jetty;

import java.util.Set;
import org.springframework.data.relational.core.mapping.MappedCollection;

/** A deck: without an identifier, with rows of its own below. */
public record Deck(String title, @MappedCollection(idColumn = "VESSEL_ID") Set<Hatch> hatches) {}
