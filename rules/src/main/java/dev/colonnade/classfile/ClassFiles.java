package dev.colonnade.classfile;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Indexer;

/**
 * The classes of a directory, read as data: none is loaded. Each file is read on its own, so that
 * one that cannot be read costs nothing but itself.
 */
public final class ClassFiles {
  /**
   * A class and the file it was read from.
   *
   * @param file the file as seen from the base directory
   */
  public record ClassFile(ClassInfo info, String file) {}

  private final Map<String, ClassFile> classes = new TreeMap<>();
  private final List<NotUnderstood> unreadable = new ArrayList<>();

  private ClassFiles() {}

  /** Reads every class file under the directory; a directory that is not there has none. */
  public static ClassFiles read(Path baseDirectory, Path directory) {
    ClassFiles result = new ClassFiles();
    for (Path file : result.filesIn(baseDirectory, directory)) {
      String name = RelativePath.of(baseDirectory, file);
      try {
        ClassInfo info = index(file);
        result.classes.putIfAbsent(info.name().toString(), new ClassFile(info, name));
      } catch (IOException | RuntimeException e) {
        result.unreadable.add(
            entry(
                name,
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

  private List<Path> filesIn(Path baseDirectory, Path directory) {
    List<Path> files = new ArrayList<>();
    if (!Files.isDirectory(directory)) {
      return files;
    }
    try {
      Files.walkFileTree(
          directory,
          new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult preVisitDirectory(Path visited, BasicFileAttributes attributes) {
              return directory.relativize(visited).startsWith("META-INF")
                  ? FileVisitResult.SKIP_SUBTREE
                  : FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
              String name = file.getFileName().toString();
              if (name.endsWith(".class") && !name.equals("module-info.class")) {
                files.add(file);
              }
              return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFileFailed(Path file, IOException problem) {
              unreadable.add(
                  entry(RelativePath.of(baseDirectory, file), "the file cannot be read"));
              return FileVisitResult.CONTINUE;
            }
          });
    } catch (IOException e) {
      unreadable.add(
          entry(RelativePath.of(baseDirectory, directory), "the directory cannot be read"));
    }
    files.sort(Comparator.naturalOrder());
    return files;
  }

  private static NotUnderstood entry(String file, String reason) {
    return new NotUnderstood(SourceLocation.of(file), reason);
  }

  /** The classes, sorted by name. */
  public Collection<ClassFile> all() {
    return classes.values();
  }

  /** The class of that name, where it is one of the directory's. */
  public Optional<ClassInfo> find(DotName name) {
    return Optional.ofNullable(classes.get(name.toString())).map(ClassFile::info);
  }

  /** The class of that name with its file. */
  public Optional<ClassFile> file(DotName name) {
    return Optional.ofNullable(classes.get(name.toString()));
  }

  /** One entry for each file that could not be read. */
  public List<NotUnderstood> unreadable() {
    return unreadable;
  }
}
