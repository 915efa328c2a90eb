package dev.colonnade.location;

import java.util.Comparator;
import java.util.Optional;

/**
 * A place in a file of the service under check.
 *
 * @param file path with forward slashes, relative to the base directory where the file lies under
 *     it; {@code archive.jar!/path} for an entry of an archive
 * @param line line, counted from 1; 1 where only the file is known
 * @param column column, counted from 1; 1 where only the line is known
 * @param changeSet the identity of the change set ({@code id::author}) that the place belongs to
 */
public record SourceLocation(String file, int line, int column, Optional<String> changeSet)
    implements Comparable<SourceLocation> {

  private static final Comparator<SourceLocation> ORDER =
      Comparator.comparing(SourceLocation::file)
          .thenComparingInt(SourceLocation::line)
          .thenComparingInt(SourceLocation::column)
          .thenComparing(location -> location.changeSet().orElse(""));

  /** Rejects lines and columns that no editor could jump to, and folds back slashes. */
  public SourceLocation {
    if (line < 1 || column < 1) {
      throw new IllegalArgumentException("line and column count from 1: " + line + ":" + column);
    }
    file = file.replace('\\', '/');
  }

  /** A place of which only the file is known. */
  public static SourceLocation of(String file) {
    return of(file, 1);
  }

  /** The start of a line. */
  public static SourceLocation of(String file, int line) {
    return new SourceLocation(file, line, 1, Optional.empty());
  }

  /** The same place, said to belong to a change set. */
  public SourceLocation inChangeSet(String identity) {
    return new SourceLocation(file, line, column, Optional.of(identity));
  }

  @Override
  public int compareTo(SourceLocation other) {
    return ORDER.compare(this, other);
  }

  /** Renders as {@code file:line}. */
  @Override
  public String toString() {
    return file + ":" + line;
  }
}
