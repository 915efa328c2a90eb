package dev.colonnade.location;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Files that the build copies among the classes of a service. */
public final class CopiedFile {
  private CopiedFile() {}

  /**
   * The file that was copied, where it lies in a resource directory unchanged; else the copy, which
   * stands for it.
   *
   * @param directory where the classes are, and the copy among them
   * @param resourceDirectories looked through in this order
   */
  public static Path original(Path directory, Path copy, List<Path> resourceDirectories) {
    String name = directory.relativize(copy).toString();
    for (Path resources : resourceDirectories) {
      Path file = resources.resolve(name);
      try {
        if (Files.isRegularFile(file) && Files.mismatch(file, copy) < 0) {
          return file;
        }
      } catch (IOException e) {
        return copy;
      }
    }
    return copy;
  }
}
