package dev.colonnade.statistics.yaml;

import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import java.io.IOException;
import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.nodes.Node;

/**
 * Reads a statistics file: YAML with {@code formatVersion: 1} and, under {@code tables}, for each
 * table {@code rows} (number), {@code rowWidth} (bytes), {@code groups} (lists of {@code columns}
 * that depend on each other, with the number of {@code distinct} combinations), {@code indexes}
 * (for each its {@code clustering}, -1 to 1) and {@code columns}; for each column {@code distinct}
 * (number of values), {@code nullFraction} (0 to 1), {@code averageWidth} (bytes), {@code minimum},
 * {@code maximum}, {@code correlation} (-1 to 1), {@code commonValues} (share of rows by value) and
 * {@code bounds} (values that cut the other rows into parts of equal size). Every part may be left
 * out.
 */
public final class StatisticsFileReader {
  /** Far above any real file; a limit guards the memory against a wrong one. */
  private static final int MOST_CHARACTERS = 64_000_000;

  private final Path baseDirectory;

  /** A reader that names files as seen from the base directory. */
  public StatisticsFileReader(Path baseDirectory) {
    this.baseDirectory = baseDirectory;
  }

  /**
   * Reads the file. What it states in a way that is not understood becomes an entry each; the rest
   * is used.
   *
   * @throws StatisticsFileException when the file cannot be read, is no YAML or of another format
   *     version
   */
  public StatisticsFile read(Path file) throws StatisticsFileException {
    String name = RelativePath.of(baseDirectory, file);
    return new StatisticsNodes(name).read(compose(name, text(name, file)));
  }

  private static Node compose(String name, String text) throws StatisticsFileException {
    LoaderOptions options = new LoaderOptions();
    options.setCodePointLimit(MOST_CHARACTERS);
    try {
      return new Yaml(options).compose(new StringReader(text));
    } catch (MarkedYAMLException e) {
      SourceLocation location =
          e.getProblemMark() == null
              ? SourceLocation.of(name)
              : new SourceLocation(
                  name,
                  e.getProblemMark().getLine() + 1,
                  e.getProblemMark().getColumn() + 1,
                  Optional.empty());
      throw new StatisticsFileException(location, "no valid YAML: " + e.getProblem(), e);
    } catch (YAMLException e) {
      throw new StatisticsFileException(
          SourceLocation.of(name), "no valid YAML: " + firstLine(e.getMessage()), e);
    }
  }

  private static String firstLine(String message) {
    return message.lines().findFirst().orElse("");
  }

  private static String text(String name, Path file) throws StatisticsFileException {
    try {
      String text =
          StandardCharsets.UTF_8
              .newDecoder()
              .decode(ByteBuffer.wrap(Files.readAllBytes(file)))
              .toString();
      return text.startsWith("\uFEFF") ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw new StatisticsFileException(SourceLocation.of(name), "the file is not valid UTF-8", e);
    } catch (IOException e) {
      throw new StatisticsFileException(SourceLocation.of(name), "the file cannot be read", e);
    }
  }
}
