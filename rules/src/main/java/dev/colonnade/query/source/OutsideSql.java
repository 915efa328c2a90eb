package dev.colonnade.query.source;

import dev.colonnade.location.RelativePath;
import dev.colonnade.query.mapper.TemplateGroup;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.ClassInfo;

/**
 * SQL that stands outside of its class where Jdbi looks it up (Jdbi 3 developer guide,
 * "SqlLocator"): {@code package/Type/name.sql}, and groups of string templates {@code
 * package/Type.sql.stg}.
 */
final class OutsideSql {
  /** A group of templates and the name of its file. */
  record Group(String file, TemplateGroup templates) {}

  private final Path baseDirectory;
  private final List<Path> directories;
  private final Map<String, Optional<Group>> groups = new HashMap<>();

  OutsideSql(Path baseDirectory, List<Path> directories) {
    this.baseDirectory = baseDirectory;
    this.directories = List.copyOf(directories);
  }

  static String fileOf(ClassInfo type, String name) {
    return typePath(type) + "/" + name + ".sql";
  }

  static String groupOf(ClassInfo type) {
    return typePath(type) + ".sql.stg";
  }

  private static String typePath(ClassInfo type) {
    return type.name().toString().replace('.', '/');
  }

  /** The statement of that name. */
  Optional<String> statement(ClassInfo type, String name) {
    return name.contains("/") || name.contains("\\") || name.contains("..")
        ? Optional.empty()
        : find(fileOf(type, name)).flatMap(OutsideSql::read);
  }

  /** The templates of a type. */
  Optional<Group> group(ClassInfo type) {
    return groups.computeIfAbsent(
        groupOf(type),
        name ->
            find(name)
                .flatMap(
                    file ->
                        read(file)
                            .map(
                                text ->
                                    new Group(
                                        RelativePath.of(baseDirectory, file),
                                        TemplateGroup.of(text)))));
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
