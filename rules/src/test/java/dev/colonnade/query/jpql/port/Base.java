package dev.colonnade.query.jpql.port;

import jakarta.persistence.Column;
import jakarta.persistence.Id;
import jakarta.persistence.MappedSuperclass;
import jakarta.persistence.Version;
import java.io.Serializable;

/** What most entities have. */
@MappedSuperclass
public abstract class Base<K extends Serializable> {
  @Id K id;

  @Version
  @Column(name = "change_count")
  int version;
}
