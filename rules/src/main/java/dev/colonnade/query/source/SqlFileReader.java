package dev.colonnade.query.source;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Reads files of SQL statements, each ended by a semicolon. A statement's id is {@code FILE:LINE}.
 */
public final class SqlFileReader {
  private static final char BYTE_ORDER_MARK = '\uFEFF';

  private final Path baseDirectory;

  /** A reader that names files as seen from the base directory. */
  public SqlFileReader(Path baseDirectory) {
    this.baseDirectory = baseDirectory;
  }

  /**
   * The statements of the files. A file that cannot be read, or is not UTF-8, becomes one entry
   * that says so.
   */
  public FoundQueries read(Collection<Path> files) {
    List<QueryText> queries = new ArrayList<>();
    List<NotUnderstood> unreadable = new ArrayList<>();
    List<Path> sorted =
        files.stream().map(file -> file.toAbsolutePath().normalize()).distinct().sorted().toList();
    for (Path file : sorted) {
      String name = RelativePath.of(baseDirectory, file);
      try {
        queries.addAll(statements(name, decode(Files.readAllBytes(file))));
      } catch (CharacterCodingException e) {
        unreadable.add(new NotUnderstood(SourceLocation.of(name), "the file is not valid UTF-8"));
      } catch (IOException e) {
        unreadable.add(new NotUnderstood(SourceLocation.of(name), "the file cannot be read"));
      }
    }
    return new FoundQueries(queries, List.of(), unreadable);
  }

  private static List<QueryText> statements(String name, String text) {
    QueryIds ids = new QueryIds();
    List<QueryText> queries = new ArrayList<>();
    for (SqlSplitter.Statement statement : SqlSplitter.split(text)) {
      queries.add(
          new QueryText(
              ids.unique(name + ":" + statement.line()),
              new SourceLocation(name, statement.line(), statement.column(), Optional.empty()),
              QuerySource.FILE,
              statement.text(),
              statement.text(),
              OptionalInt.of(statement.line())));
    }
    return queries;
  }

  private static String decode(byte[] bytes) throws CharacterCodingException {
    String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
    return !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK ? text.substring(1) : text;
  }
}
