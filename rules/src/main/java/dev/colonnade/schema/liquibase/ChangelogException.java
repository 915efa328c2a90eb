package dev.colonnade.schema.liquibase;

import dev.colonnade.location.SourceLocation;

/**
 * A changelog that cannot be read at all: missing, broken, or including itself. A malfunction, not
 * a finding: nothing can be said about the schema.
 */
public final class ChangelogException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient SourceLocation location;

  /** A reason and the place that it belongs to. */
  public ChangelogException(SourceLocation location, String reason) {
    super(location + ": " + reason);
    this.location = location;
  }

  /** The place; line 1 where only the file is known. */
  public SourceLocation location() {
    return location;
  }
}
