package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/** A change of a view. */
public sealed interface ViewChange extends SchemaChange {
  /**
   * A view comes into being.
   *
   * @param view its name
   * @param definition the query's text
   * @param materialized true when its rows are stored, so that it can have indexes
   * @param location where it is written
   */
  record CreateView(
      Identifier view, Optional<String> definition, boolean materialized, SourceLocation location)
      implements ViewChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.createView(this);
    }
  }

  /**
   * A view goes.
   *
   * @param view its name
   * @param ifExists true when a missing view is no error
   * @param location where it is written
   */
  record DropView(Identifier view, boolean ifExists, SourceLocation location)
      implements ViewChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropView(this);
    }
  }

  /**
   * A view changes its name.
   *
   * @param from name before
   * @param to name after
   * @param location where it is written
   */
  record RenameView(Identifier from, Identifier to, SourceLocation location) implements ViewChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameView(this);
    }
  }
}
