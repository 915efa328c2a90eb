package dev.colonnade.query.jpql.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Convert;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.ManyToOne;
import org.hibernate.type.YesNoConverter;

/** What a repair cost. */
@Entity
public class Bill extends Paper {
  Money due;

  @Convert(converter = YesNoConverter.class)
  @Column(name = "is_settled")
  Boolean settled;

  @ManyToOne(fetch = FetchType.LAZY, optional = false)
  Client client;
}
