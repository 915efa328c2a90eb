package dev.colonnade.query.jpql.jetty;

import java.time.LocalDateTime;
import org.springframework.data.annotation.Id;
import org.springframework.data.annotation.Version;
import org.springframework.data.relational.core.mapping.InsertOnlyProperty;

/** What every register entry has. */
public abstract class Registered<K> {
  @Id K id;
  @Version int revision;
  @InsertOnlyProperty LocalDateTime registeredAt;
}
