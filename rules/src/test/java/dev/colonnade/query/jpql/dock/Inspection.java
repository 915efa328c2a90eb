package dev.colonnade.query.jpql.dock;

import java.time.LocalDateTime;

/** Somebody looked at a vessel. */
public class Inspection {
  Long id;
  Vessel vessel;
  LocalDateTime heldAt;
  String result;
}
