package dev.colonnade.classfile;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Enumeration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;

/**
 * The class path that a service is compiled against: jars and directories, in which single classes
 * are looked up. Only names are read ahead.
 */
final class Libraries {
  /** Files that say that a jar holds entities, or beans of which some may be. */
  private static final Set<String> MARKERS =
      Set.of("META-INF/persistence.xml", "META-INF/orm.xml", "META-INF/beans.xml");

  private static final String SUFFIX = ".class";

  /**
   * Where a class is.
   *
   * @param path a class file, or the jar that holds it
   * @param entry its name in the jar; empty for a file
   */
  record Place(Path path, String entry) {
    byte[] read() throws IOException {
      if (entry.isEmpty()) {
        return Files.readAllBytes(path);
      }
      try (ZipFile jar = new ZipFile(path.toFile());
          InputStream in = jar.getInputStream(jar.getEntry(entry))) {
        return in.readAllBytes();
      }
    }
  }

  private final Map<String, Place> places = new HashMap<>();
  private final List<String> candidates = new ArrayList<>();

  /** The first place of a class on the path counts, as it does when classes are loaded. */
  Libraries(List<Path> classPath) {
    classPath.forEach(this::read);
  }

  /** A library that cannot be read has no classes: what needs one of them says so. */
  private boolean read(Path path) {
    try {
      if (Files.isDirectory(path)) {
        directory(path);
      } else if (Files.isRegularFile(path)) {
        jar(path);
      }
      return true;
    } catch (IOException | java.io.UncheckedIOException e) {
      return false;
    }
  }

  private void directory(Path directory) throws IOException {
    try (Stream<Path> files = Files.walk(directory, FileVisitOption.FOLLOW_LINKS)) {
      files
          .filter(it -> it.toString().endsWith(SUFFIX))
          .sorted()
          .forEach(
              file -> {
                String name = directory.relativize(file).toString().replace('\\', '/');
                add(name, new Place(file, ""), true);
              });
    }
  }

  private void jar(Path path) throws IOException {
    try (ZipFile jar = new ZipFile(path.toFile())) {
      boolean marked = MARKERS.stream().anyMatch(it -> jar.getEntry(it) != null);
      Enumeration<? extends ZipEntry> entries = jar.entries();
      while (entries.hasMoreElements()) {
        String name = entries.nextElement().getName();
        if (name.endsWith(SUFFIX) && !name.startsWith("META-INF/")) {
          add(name, new Place(path, name), marked);
        }
      }
    }
  }

  private void add(String file, Place place, boolean candidate) {
    String name = file.substring(0, file.length() - SUFFIX.length()).replace('/', '.');
    if (places.putIfAbsent(name, place) == null && candidate) {
      candidates.add(name);
    }
  }

  /** Where the class of that binary name is. */
  Optional<Place> find(String className) {
    return Optional.ofNullable(places.get(className));
  }

  /** Names of classes in modules of the same build and in jars that say they hold entities. */
  List<String> candidates() {
    return candidates;
  }
}
