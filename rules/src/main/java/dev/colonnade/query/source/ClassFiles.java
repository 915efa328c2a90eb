package dev.colonnade.query.source;

import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.UnanalysedQuery;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Indexer;

/**
 * The classes of a directory, read as data: none is loaded. Each file is read on its own, so that
 * one that cannot be read costs nothing but itself.
 */
final class ClassFiles {
  /**
   * A class and the file it was read from.
   *
   * @param file the file as seen from the base directory
   */
  record ClassFile(ClassInfo info, String file) {}

  private final Map<String, ClassFile> classes = new TreeMap<>();
  private final List<UnanalysedQuery> unreadable = new ArrayList<>();

  private ClassFiles() {}

  /** Reads every class file under the directory; a directory that is not there has none. */
  static ClassFiles read(Path baseDirectory, Path directory) {
    ClassFiles result = new ClassFiles();
    for (Path file : filesIn(directory)) {
      String name = RelativePath.of(baseDirectory, file);
      try {
        ClassInfo info = index(file);
        result.classes.putIfAbsent(info.name().toString(), new ClassFile(info, name));
      } catch (IOException | RuntimeException e) {
        result.unreadable.add(
            new UnanalysedQuery(
                name,
                SourceLocation.of(name),
                "the class file cannot be read: it is damaged, cut off or of an unknown format"));
      }
    }
    return result;
  }

  private static ClassInfo index(Path file) throws IOException {
    try (InputStream in = new BufferedInputStream(Files.newInputStream(file))) {
      Indexer indexer = new Indexer();
      indexer.index(in);
      return indexer.complete().getKnownClasses().iterator().next();
    }
  }

  private static List<Path> filesIn(Path directory) {
    if (!Files.isDirectory(directory)) {
      return List.of();
    }
    try (Stream<Path> files = Files.walk(directory)) {
      return files
          .filter(file -> file.getFileName().toString().endsWith(".class"))
          .filter(file -> !file.getFileName().toString().equals("module-info.class"))
          .filter(file -> !directory.relativize(file).startsWith("META-INF"))
          .filter(Files::isRegularFile)
          .sorted()
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The classes, sorted by name. */
  Collection<ClassFile> all() {
    return classes.values();
  }

  /** The class of that name, where it is one of the directory's. */
  Optional<ClassInfo> find(DotName name) {
    return Optional.ofNullable(classes.get(name.toString())).map(ClassFile::info);
  }

  /** One entry for each file that could not be read. */
  List<UnanalysedQuery> unreadable() {
    return unreadable;
  }
}
