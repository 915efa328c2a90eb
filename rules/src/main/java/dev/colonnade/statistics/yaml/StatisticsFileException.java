package dev.colonnade.statistics.yaml;

import dev.colonnade.location.SourceLocation;

/** The statistics file cannot be used at all. The message names the place and stands alone. */
public final class StatisticsFileException extends Exception {
  private final transient SourceLocation location;

  StatisticsFileException(SourceLocation location, String problem, Throwable cause) {
    super("statistics file " + location + ": " + problem, cause);
    this.location = location;
  }

  /** Where reading stopped. */
  public SourceLocation location() {
    return location;
  }
}
