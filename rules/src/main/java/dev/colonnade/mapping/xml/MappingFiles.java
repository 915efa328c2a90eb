package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.ClassAddition;
import dev.colonnade.location.CopiedFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import javax.xml.stream.XMLStreamException;

/**
 * Reads every mapping file among the classes of a service: files whose root element is {@code
 * entity-mappings} or {@code hibernate-mapping}, whatever their names, so that those which a
 * persistence.xml or a configuration in code names are found.
 */
public final class MappingFiles {
  private static final List<String> ROOTS = List.of("entity-mappings", "hibernate-mapping");

  private final Path baseDirectory;
  private final Path directory;
  private final List<Path> resourceDirectories;
  private final Map<String, ClassAddition> classes = new TreeMap<>();
  private final List<XmlQuery> queries = new ArrayList<>();
  private final List<NotUnderstood> problems = new ArrayList<>();

  private MappingFiles(Path baseDirectory, Path directory, List<Path> resourceDirectories) {
    this.baseDirectory = baseDirectory;
    this.directory = directory;
    this.resourceDirectories = resourceDirectories;
  }

  /**
   * What the mapping files say.
   *
   * @param baseDirectory what file names are relative to
   * @param directory where the classes are, and copies of the files beside them
   * @param resourceDirectories where the files themselves are looked up for their place
   */
  public static XmlMappings read(
      Path baseDirectory, Path directory, List<Path> resourceDirectories) {
    MappingFiles files = new MappingFiles(baseDirectory, directory, resourceDirectories);
    files.readAll();
    return new XmlMappings(files.classes, files.queries, files.problems);
  }

  private record Parsed(String name, String file, XmlElement root) {}

  private void readAll() {
    List<Parsed> hibernate = new ArrayList<>();
    for (Path path : candidates()) {
      String name = directory.relativize(path).toString().replace('\\', '/');
      Path original = CopiedFile.original(directory, path, resourceDirectories);
      String file = RelativePath.of(baseDirectory, original);
      try (InputStream in = new BufferedInputStream(Files.newInputStream(path))) {
        Optional<XmlElement> root = XmlFile.read(in, ROOTS);
        if (root.isPresent() && root.get().name().equals("entity-mappings")) {
          new OrmFile(name, file, classes, queries).read(root.get());
        } else if (root.isPresent()) {
          hibernate.add(new Parsed(name, file, root.get()));
        }
      } catch (IOException e) {
        problems.add(new NotUnderstood(SourceLocation.of(file), "the file cannot be read"));
      } catch (XMLStreamException e) {
        if (isMapping(name)) {
          int line = e.getLocation() == null ? 1 : Math.max(e.getLocation().getLineNumber(), 1);
          problems.add(
              new NotUnderstood(SourceLocation.of(file, line), "the XML is not well formed"));
        }
      }
    }
    HbmHierarchy hierarchy = new HbmHierarchy();
    hibernate.forEach(parsed -> hierarchy.add(parsed.root()));
    for (Parsed parsed : hibernate) {
      new HbmFile(parsed.name(), parsed.file(), hierarchy, classes, queries, problems)
          .read(parsed.root());
    }
  }

  private static boolean isMapping(String name) {
    return name.endsWith("orm.xml") || name.endsWith(".hbm.xml");
  }

  private List<Path> candidates() {
    if (!Files.isDirectory(directory)) {
      return List.of();
    }
    try (Stream<Path> files = Files.walk(directory, FileVisitOption.FOLLOW_LINKS)) {
      return files
          .filter(it -> it.getFileName().toString().endsWith(".xml") && Files.isRegularFile(it))
          .sorted(Comparator.naturalOrder())
          .toList();
    } catch (IOException | java.io.UncheckedIOException e) {
      problems.add(
          new NotUnderstood(
              SourceLocation.of(RelativePath.of(baseDirectory, directory)),
              "the directory cannot be read"));
      return List.of();
    }
  }
}
