package dev.colonnade.query.jpql.port;

import jakarta.persistence.Entity;

/** A vessel leaves. */
@Entity
public class Exit extends Movement {
  String destination;
}
