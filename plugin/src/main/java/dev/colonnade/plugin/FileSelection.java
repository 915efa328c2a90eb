package dev.colonnade.plugin;

import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.codehaus.plexus.util.DirectoryScanner;

/** A set of files: a directory, and patterns in Maven's own notation for what to take of it. */
public final class FileSelection {
  private File directory;
  private List<String> includes = new ArrayList<>();
  private List<String> excludes = new ArrayList<>();

  /** For the configurator, which fills the fields. */
  public FileSelection() {}

  /**
   * Called by the configurator where one word stands for the whole element: patterns, separated by
   * commas, below the project's base directory.
   */
  public void set(String text) {
    includes = Stream.of(text.split(",", -1)).map(String::trim).filter(p -> !p.isEmpty()).toList();
  }

  /** True when nothing is configured: Maven makes an empty one for a parameter without a value. */
  boolean isEmpty() {
    return directory == null && includes.isEmpty() && excludes.isEmpty();
  }

  /** Where the patterns are looked up: what is configured, else {@code baseDirectory}. */
  Path directory(Path baseDirectory) {
    return directory == null ? baseDirectory : directory.toPath();
  }

  /**
   * The files, sorted by path.
   *
   * @param baseDirectory the directory where none is configured
   * @param defaultInclude the pattern where none is configured
   */
  List<Path> files(Path baseDirectory, String defaultInclude) {
    Path root = directory(baseDirectory);
    DirectoryScanner scanner = new DirectoryScanner();
    scanner.setBasedir(root.toFile());
    scanner.setIncludes(
        includes.isEmpty() ? new String[] {defaultInclude} : includes.toArray(String[]::new));
    scanner.setExcludes(excludes.toArray(String[]::new));
    scanner.addDefaultExcludes();
    scanner.scan();
    return Arrays.stream(scanner.getIncludedFiles()).map(root::resolve).sorted().toList();
  }
}
