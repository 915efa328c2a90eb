package dev.colonnade.query.jpql.jetty;

import java.util.List;
import org.springframework.data.annotation.Id;

/** A paper of a vessel, with rows of its own below. */
public class Certificate {
  @Id Long id;
  String issuer;
  List<Inspection> inspections;
}
