package dev.colonnade.query.source;

import dev.colonnade.location.CopiedFile;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.MapperReading;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** Finds the queries of mapper files. */
public final class MapperFiles {
  /** Characters in which the root of a file stands, behind a licence and a document type. */
  private static final int HEAD = 8192;

  /** The root of a mapper, or of a configuration of MyBatis, which holds properties. */
  private static final Pattern ROOT =
      Pattern.compile("<mapper\\s[^>]*\\bnamespace\\s*=|<!DOCTYPE\\s+configuration\\s[^>]*mybatis");

  private MapperFiles() {}

  /** The statements of the files, each in its variants. */
  public static FoundQueries read(MapperReader reader, Collection<Path> files) {
    return found(reader.read(files));
  }

  /**
   * The mapper files among a service's classes, where MyBatis looks for them.
   *
   * @param directory where the classes are, and copies of the files beside them
   * @param resourceDirectories where the files themselves are looked up for their place
   */
  public static List<Path> among(Path directory, List<Path> resourceDirectories) {
    if (!Files.isDirectory(directory)) {
      return List.of();
    }
    try (Stream<Path> files = Files.walk(directory, FileVisitOption.FOLLOW_LINKS)) {
      return files
          .filter(it -> it.getFileName().toString().endsWith(".xml") && Files.isRegularFile(it))
          .filter(MapperFiles::isMapper)
          .map(it -> CopiedFile.original(directory, it, resourceDirectories))
          .sorted()
          .toList();
    } catch (IOException | UncheckedIOException e) {
      // The reader of the classes lists a directory that cannot be read.
      return List.of();
    }
  }

  private static boolean isMapper(Path file) {
    try (InputStream in = Files.newInputStream(file)) {
      return ROOT.matcher(new String(in.readNBytes(HEAD), StandardCharsets.UTF_8)).find();
    } catch (IOException e) {
      return false;
    }
  }

  static FoundQueries found(MapperReading reading) {
    return new FoundQueries(
        reading.queries(), reading.unanalysed(), reading.notes(), reading.withoutText());
  }
}
