package dev.colonnade.query.jpql.jetty;

import org.springframework.data.annotation.Id;
import org.springframework.data.relational.core.mapping.Column;
import org.springframework.data.relational.core.mapping.Table;

/** A place to lie at. */
@Table("BERTH_PLACE")
public record Berth(
    @Id Long id, String code, @Column("DEPTH") int depthInCentimetres, String quay) {}
