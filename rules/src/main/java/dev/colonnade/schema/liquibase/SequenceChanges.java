package dev.colonnade.schema.liquibase;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.change.SequenceChange;
import java.util.Optional;
import liquibase.change.Change;
import liquibase.change.core.CreateSequenceChange;
import liquibase.change.core.DropSequenceChange;
import liquibase.change.core.RenameSequenceChange;

/** Changes of sequences, read from their attributes. */
final class SequenceChanges {
  private SequenceChanges() {}

  /** The effect; nothing where the change is of another type. */
  static Optional<SchemaChange> read(Change change, SourceLocation at) {
    if (change instanceof CreateSequenceChange create) {
      return Optional.of(
          new SequenceChange(
              Optional.empty(), DirectChanges.optional(create.getSequenceName()), at));
    }
    if (change instanceof DropSequenceChange drop) {
      return Optional.of(
          new SequenceChange(DirectChanges.optional(drop.getSequenceName()), Optional.empty(), at));
    }
    return change instanceof RenameSequenceChange rename
        ? Optional.of(
            new SequenceChange(
                DirectChanges.optional(rename.getOldSequenceName()),
                DirectChanges.optional(rename.getNewSequenceName()),
                at))
        : Optional.empty();
  }
}
