package dev.colonnade.query.jpql.dock;

/** Who wrote a note. */
public class Written {
  String by;
  private Note note;

  public Note getNote() {
    return note;
  }

  public void setNote(Note note) {
    this.note = note;
  }
}
