package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import java.io.Serializable;

/** The number of a berth at its quay. */
@Embeddable
public record BerthId(@Column(name = "quay") String quay, @Column(name = "berth_no") int number)
    implements Serializable {}
