package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;
import liquibase.changelog.ChangeSet;

/**
 * The places of a change set and of each change in it. They travel through Liquibase's parser as an
 * attribute of the change set, which Liquibase keeps for whoever knows its name.
 *
 * @param changeSet the place of the change set
 * @param changes the places of its changes, in order
 */
record ChangeSetMarks(Mark changeSet, List<Mark> changes) {
  /** The attribute's name. */
  static final String ATTRIBUTE = "colonnadeMarks";

  ChangeSetMarks {
    changes = List.copyOf(changes);
  }

  String encoded() {
    StringBuilder text = new StringBuilder(changeSet.encoded());
    changes.forEach(mark -> text.append(' ').append(mark.encoded()));
    return text.toString();
  }

  static ChangeSetMarks of(ChangeSet changeSet) {
    if (!(changeSet.getAttribute(ATTRIBUTE) instanceof String text)) {
      return new ChangeSetMarks(Mark.START, List.of());
    }
    List<Mark> marks = new ArrayList<>();
    for (String part : text.split(" ", -1)) {
      marks.add(Mark.decoded(part));
    }
    return new ChangeSetMarks(marks.get(0), marks.subList(1, marks.size()));
  }

  /** The place of a change, or of the change set where it is not known. */
  Mark change(int index) {
    return index < changes.size() ? changes.get(index) : changeSet;
  }
}
