package dev.colonnade.location;

import java.nio.file.Path;

/** Names files the same way on every machine and system. */
public final class RelativePath {
  private RelativePath() {}

  /** The file's path as seen from the base directory, with forward slashes. */
  public static String of(Path base, Path file) {
    Path from = base.toAbsolutePath().normalize();
    Path to = file.toAbsolutePath().normalize();
    boolean sameRoot = from.getRoot() != null && from.getRoot().equals(to.getRoot());
    return (sameRoot ? from.relativize(to) : to).toString().replace('\\', '/');
  }
}
