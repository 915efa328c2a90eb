package dev.colonnade.schema.liquibase;

import dev.colonnade.location.RelativePath;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import liquibase.resource.AbstractResourceAccessor;
import liquibase.resource.Resource;

/**
 * Looks files up in directories and jar files; where several have a path, the first one counts.
 * Jars are opened when nothing before them has the file.
 */
final class RootsAccessor extends AbstractResourceAccessor {
  /** Paths that are normal already: names of files and directories that hold a letter or digit. */
  private static final Pattern PLAIN = Pattern.compile("[\\w-][\\w .-]*(?:/[\\w-][\\w .-]*)*");

  private final Path base;
  private final List<Path> roots;
  private final Map<Path, FileSystem> archives = new HashMap<>();
  private final Map<String, String> displayed = new HashMap<>();
  private final Map<String, String[]> lines = new HashMap<>();

  RootsAccessor(Path base, List<Path> roots) {
    this.base = base.toAbsolutePath().normalize();
    this.roots = roots;
  }

  /** A file that was found. */
  private record Found(Path root, Path file) {}

  /** The path below a root that a changelog means by what it writes. */
  static String normalize(String written) {
    return PLAIN.matcher(written).matches() ? written : normalized(written);
  }

  private static String normalized(String written) {
    String path =
        written
            .replace('\\', '/')
            .replaceFirst("^classpath\\*?:", "")
            .replaceFirst("^file:", "")
            .replaceFirst("^/+", "");
    List<String> parts = new ArrayList<>();
    for (String part : path.split("/", -1)) {
      if (part.equals("..") && !parts.isEmpty() && !parts.get(parts.size() - 1).equals("..")) {
        parts.remove(parts.size() - 1);
      } else if (!part.isEmpty() && !part.equals(".")) {
        parts.add(part);
      }
    }
    return String.join("/", parts);
  }

  /** The roots for a message: directories by name, archives by number. */
  String places() {
    List<String> places = new ArrayList<>();
    long archiveCount = roots.stream().filter(Files::isRegularFile).count();
    for (Path root : roots) {
      if (!Files.isRegularFile(root)) {
        String name = RelativePath.of(base, root);
        places.add(name.isEmpty() ? "the base directory" : name);
      }
    }
    if (archiveCount > 0) {
      places.add(archiveCount == 1 ? "1 archive" : archiveCount + " archives");
    }
    return String.join(", ", places);
  }

  private Optional<Found> find(String written) throws IOException {
    String path = normalize(written);
    for (Path root : roots) {
      Optional<Path> top = top(root);
      if (top.isPresent()) {
        Path file = top.get().resolve(path);
        if (Files.isRegularFile(file)) {
          return Optional.of(new Found(root, file));
        }
      }
    }
    Path absolute = base.resolve(written.replaceFirst("^file:", ""));
    if (absolute.isAbsolute() && Files.isRegularFile(absolute)) {
      return Optional.of(new Found(base, absolute.normalize()));
    }
    return Optional.empty();
  }

  private Optional<Path> top(Path root) throws IOException {
    if (Files.isDirectory(root)) {
      return Optional.of(root);
    }
    if (!Files.isRegularFile(root)) {
      return Optional.empty();
    }
    FileSystem archive = archives.get(root);
    if (archive == null) {
      archive = FileSystems.newFileSystem(root);
      archives.put(root, archive);
    }
    return Optional.of(archive.getPath("/"));
  }

  /** The file's name in reports; the path as written where it does not exist. */
  String display(String written) {
    return displayed.computeIfAbsent(written, this::displayName);
  }

  private String displayName(String written) {
    try {
      Optional<Found> found = find(written);
      return found.isPresent() ? display(found.get()) : normalize(written);
    } catch (IOException e) {
      return normalize(written);
    }
  }

  private String display(Found found) {
    if (Files.isRegularFile(found.root())) {
      return found.root().getFileName() + "!" + found.file();
    }
    Path file = found.file().toAbsolutePath().normalize();
    return (file.startsWith(base) ? base.relativize(file) : file).toString().replace('\\', '/');
  }

  boolean exists(String written) {
    try {
      return find(written).isPresent();
    } catch (IOException e) {
      return false;
    }
  }

  /** The text of a file, in UTF-8; nothing where it does not exist. */
  Optional<String> text(String written) {
    try {
      Optional<Found> found = find(written);
      if (found.isEmpty()) {
        return Optional.empty();
      }
      return Optional.of(
          new String(
              Files.readAllBytes(found.get().file()), java.nio.charset.StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The lines of a file; none where it does not exist. */
  String[] lines(String written) {
    return lines.computeIfAbsent(
        written, path -> text(path).map(text -> text.split("\\R", -1)).orElse(new String[0]));
  }

  @Override
  public List<Resource> getAll(String path) throws IOException {
    Optional<Found> found = find(path);
    return found.isPresent() ? List.of(new FoundResource(normalize(path), found)) : List.of();
  }

  @Override
  public List<Resource> search(String path, boolean recursive) throws IOException {
    SearchOptions options = new SearchOptions();
    options.setRecursive(recursive);
    return search(path, options);
  }

  @Override
  public List<Resource> search(String path, SearchOptions options) throws IOException {
    String directory = normalize(path);
    String ending =
        options.endsWithFilterIsSet() ? options.getEndsWithFilter().toLowerCase(Locale.ROOT) : "";
    Map<String, Resource> byPath = new LinkedHashMap<>();
    for (Path root : roots) {
      Optional<Path> top = top(root);
      if (top.isEmpty() || !Files.isDirectory(top.get().resolve(directory))) {
        continue;
      }
      Path start = top.get().resolve(directory);
      try (Stream<Path> files =
          Files.walk(start, options.getMaxDepth(), FileVisitOption.FOLLOW_LINKS)) {
        for (Path file : files.filter(Files::isRegularFile).toList()) {
          int depth = file.getNameCount() - start.getNameCount();
          String found = normalize(top.get().relativize(file).toString());
          if (depth >= options.getMinDepth() && found.toLowerCase(Locale.ROOT).endsWith(ending)) {
            byPath.putIfAbsent(found, new FoundResource(found, Optional.of(new Found(root, file))));
          }
        }
      }
    }
    return List.copyOf(byPath.values());
  }

  @Override
  public List<String> describeLocations() {
    return roots.stream().map(Path::toString).toList();
  }

  @Override
  public void close() throws IOException {
    for (FileSystem archive : archives.values()) {
      archive.close();
    }
    archives.clear();
  }

  /** A file below the roots, or the lack of one. */
  private final class FoundResource implements Resource {
    private final String path;
    private final Optional<Found> found;

    FoundResource(String path, Optional<Found> found) {
      this.path = path;
      this.found = found;
    }

    @Override
    public String getPath() {
      return path;
    }

    @Override
    public InputStream openInputStream() throws IOException {
      if (found.isEmpty()) {
        throw new IOException(path + " does not exist");
      }
      return Files.newInputStream(found.get().file());
    }

    @Override
    public boolean isWritable() {
      return false;
    }

    @Override
    public boolean exists() {
      return found.isPresent();
    }

    @Override
    public Resource resolve(String other) {
      return at(path + "/" + other);
    }

    @Override
    public Resource resolveSibling(String other) {
      int slash = path.lastIndexOf('/');
      return at(slash < 0 ? other : path.substring(0, slash + 1) + other);
    }

    private Resource at(String other) {
      String normalized = normalize(other);
      try {
        return new FoundResource(normalized, find(normalized));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    @Override
    public java.io.OutputStream openOutputStream(liquibase.resource.OpenOptions options) {
      throw new UnsupportedOperationException("changelogs are only read");
    }

    @Override
    public URI getUri() {
      return found.isPresent() ? found.get().file().toUri() : URI.create("missing");
    }

    @Override
    public int hashCode() {
      return path.hashCode();
    }

    @Override
    public boolean equals(Object other) {
      return other instanceof FoundResource resource && resource.path.equals(path);
    }

    @Override
    public String toString() {
      return path;
    }
  }
}
