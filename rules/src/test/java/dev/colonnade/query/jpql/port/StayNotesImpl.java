package dev.colonnade.query.jpql.port;

import java.util.List;

/** Finds nothing. */
public final class StayNotesImpl implements StayNotes {
  @Override
  public List<Note> findNotesByHand(String text) {
    return List.of();
  }
}
