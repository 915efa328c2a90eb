package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.location.RelativePath;
import dev.colonnade.query.mapper.TemplateGroup;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import org.jboss.jandex.ClassInfo;

/**
 * SQL that stands outside of its class where Jdbi looks it up (Jdbi 3 developer guide,
 * "SqlLocator"): {@code package/Type/name.sql}, and groups of string templates {@code
 * package/Type.sql.stg}.
 */
final class OutsideSql {
  /** A group of templates and the name of its file. */
  record Group(String file, TemplateGroup templates) {}

  private static final String EXTENSION = ".sql.stg";

  private final Path baseDirectory;
  private final List<Path> directories;
  private final ClassFiles classes;
  private final Map<String, Optional<Group>> groups = new HashMap<>();

  OutsideSql(Path baseDirectory, List<Path> directories, ClassFiles classes) {
    this.baseDirectory = baseDirectory;
    this.directories = List.copyOf(directories);
    this.classes = classes;
  }

  static String fileOf(ClassInfo type, String name) {
    return typePath(type) + "/" + name + ".sql";
  }

  static String groupOf(ClassInfo type) {
    return typePath(type) + EXTENSION;
  }

  private static String typePath(ClassInfo type) {
    return type.name().toString().replace('.', '/');
  }

  /** Whether a type has a group of templates, or a directory of statements. */
  boolean hasTexts(ClassInfo type) {
    return group(type).isPresent()
        || directories.stream()
            .anyMatch(directory -> Files.isDirectory(directory.resolve(typePath(type))));
  }

  /** The statement of that name. */
  Optional<String> statement(ClassInfo type, String name) {
    return name.contains("/") || name.contains("\\") || name.contains("..")
        ? Optional.empty()
        : find(fileOf(type, name)).flatMap(OutsideSql::read);
  }

  /** The templates of a type. */
  Optional<Group> group(ClassInfo type) {
    return group(groupOf(type), other -> above(type, other));
  }

  private Optional<Group> group(String name, Function<String, Optional<TemplateGroup>> otherwise) {
    Optional<Group> known = groups.get(name);
    if (known == null) {
      // A group that imports itself finds nothing of itself.
      groups.put(name, Optional.empty());
      known = find(name).flatMap(file -> group(name, file, otherwise));
      groups.put(name, known);
    }
    return known;
  }

  private Optional<Group> group(
      String name, Path file, Function<String, Optional<TemplateGroup>> otherwise) {
    String folder = name.substring(0, name.lastIndexOf('/') + 1);
    return read(file)
        .map(
            text ->
                TemplateGroup.of(
                    text, other -> imported(folder, other).or(() -> otherwise.apply(other))))
        .map(group -> new Group(RelativePath.of(baseDirectory, file), group));
  }

  /** The templates of a type above that is called so, wherever it lies. */
  private Optional<TemplateGroup> above(ClassInfo type, String name) {
    return type.interfaceNames().stream()
        .flatMap(it -> classes.find(it).stream())
        .flatMap(
            it ->
                (it.simpleName().equals(name) ? group(it).map(Group::templates) : above(it, name))
                    .stream())
        .findFirst();
  }

  /** A file beside the one that imports it, or from where names of classes start. */
  private Optional<TemplateGroup> imported(String folder, String name) {
    return Stream.of(folder + name, name, folder + name + EXTENSION, folder + name + ".stg")
        .filter(it -> it.endsWith(".stg") && !it.contains(".."))
        .flatMap(it -> group(it, unknown -> Optional.empty()).stream())
        .findFirst()
        .map(Group::templates);
  }

  private Optional<Path> find(String name) {
    return directories.stream()
        .map(directory -> directory.resolve(name))
        .filter(Files::isRegularFile)
        .findFirst();
  }

  /** Nothing for a file that is not UTF-8: to Jdbi it would be another text on each machine. */
  private static Optional<String> read(Path file) {
    try {
      return Optional.of(Files.readString(file));
    } catch (IOException e) {
      return Optional.empty();
    }
  }
}
