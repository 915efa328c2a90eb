package dev.colonnade.query.jpql.basin;

import java.io.Serializable;

/** What a slot is known by. */
public record SlotId(Long basin, int number) implements Serializable {}
