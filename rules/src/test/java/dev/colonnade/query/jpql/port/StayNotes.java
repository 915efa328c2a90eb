package dev.colonnade.query.jpql.port;

import java.util.List;

/** A fragment: what it does is in its implementation. */
public interface StayNotes {
  List<Note> findNotesByHand(String text);
}
