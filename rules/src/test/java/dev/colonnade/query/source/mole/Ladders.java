package dev.colonnade.query.source.mole;

/** A repository whose entity a base class is told. */
public class Ladders extends NamedThings<Ladder> {
  long high() {
    return count("rungs > ?1", 20);
  }

  boolean gone(Long id) {
    return deleteById(id);
  }

  void broken(Ladder ladder) {
    delete(ladder);
  }
}
