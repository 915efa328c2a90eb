package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.source.CamundaProperties;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.MapperFiles;
import dev.colonnade.query.sql.ReferencedColumns;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The mapper statements of Camunda 7.21.0 on a PostgreSQL 18 that Liquibase's own update has
 * brought to their schema: what the server accepts is analysed, and what is analysed the server
 * accepts.
 */
final class CamundaStatementsTest {
  private static final String ROOT = "org/camunda/bpm/engine/db/liquibase/camunda-changelog.xml";
  private static final Path JAR = Path.of("target/services/camunda-engine.jar");
  private static final String MAPPERS = "org/camunda/bpm/engine/impl/mapping/entity/";

  /** Of a statement, the texts that are tried. */
  private static final int MOST_TEXTS = 8;

  /** A text in quotes, or a parameter. */
  private static final Pattern PARAMETER = Pattern.compile("('(?:[^']|'')*')|[#$]\\{[^}]*}");

  @TempDir private Path directory;

  @Test
  void postgresql_accepts_what_is_analysed() throws Exception {
    unpack();
    Dialect dialect = Dialects.postgresql();
    Map<String, String> parameters = Map.of("db.name", "postgres");
    Schema schema =
        ChangelogReader.read(
                new ChangelogInput(
                    dialect,
                    Path.of("."),
                    List.of(JAR),
                    List.of(RootChangelog.of(ROOT)),
                    parameters))
            .schema();
    FoundQueries found =
        MapperFiles.read(
            new MapperReader(directory, "postgresql", CamundaProperties.forPostgresql()),
            mapperFiles());
    StatementParser parser = new StatementParser(schema, dialect);
    try (Connection connection = RealPostgres.newDatabase();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), ROOT);
      Set<String> accepted = new TreeSet<>();
      Map<String, String> refused = new TreeMap<>();
      List<String> notRead = new ArrayList<>();
      Map<String, Integer> texts = new HashMap<>();
      Map<String, ReferencedColumns> columns = new HashMap<>();
      for (QueryText text : found.queries()) {
        if (texts.merge(text.id(), 1, Integer::sum) > MOST_TEXTS) {
          continue;
        }
        // A value that is put into the text may be a number or anything else.
        String refusal = refusal(connection, text.sql(), "?");
        if (!refusal.isEmpty()) {
          refusal = refusal(connection, text.sql(), "1");
        }
        StatementReading reading = parser.parse(text);
        boolean read = reading instanceof StatementReading.Analysed;
        if (refusal.isEmpty() && reading instanceof StatementReading.Analysed analysed) {
          String sql = filled(text.sql(), "null", "null");
          ReferencedColumns.compare(connection, sql, analysed.query())
              .ifPresent(it -> columns.put(text.sql(), it));
        }
        if (refusal.isEmpty() && read) {
          accepted.add(text.id());
        } else if (refusal.isEmpty()) {
          notRead.add(text.id() + ": " + text.sql());
        } else if (read) {
          refused.put(text.sql(), refusal);
        }
      }
      assertThat(notRead).as("accepted and not read").isEmpty();
      assertThat(refused).as("read and refused").isEmpty();
      assertThat(accepted).hasSizeGreaterThan(600);
      // What only an outer select list leaves unread of a derived table, we do not read.
      assertThat(columns)
          .hasSizeGreaterThan(1_100)
          .allSatisfy((sql, it) -> assertThat(it.notRecorded()).as(sql).isEmpty());
      assertThat(columns.values().stream().filter(ReferencedColumns::agree))
          .hasSizeGreaterThan(900);
      Set<String> rest = new TreeSet<>(texts.keySet());
      rest.removeAll(accepted);
      assertThat(rest.stream().map(it -> it.substring(it.lastIndexOf('.') + 1)))
          .as("no text of it is accepted: a column that no change adds, a view of another database")
          .containsExactly("selectCamundaFormDefinitionByKeyVersionTag");
    }
  }

  /** What the server says against the statement; empty where it takes it. */
  private static String refusal(Connection connection, String text, String value)
      throws SQLException {
    String sql = filled(text, "?", value);
    // Asking for the parameters' types sends the statement to the server, which does not run it.
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
      statement.getParameterMetaData();
      return "";
    } catch (SQLException e) {
      if (!connection.getAutoCommit()) {
        connection.rollback();
      }
      return e.getMessage();
    }
  }

  /** The text with its parameters, and what is put into the text, replaced. */
  private static String filled(String text, String parameter, String value) {
    return PARAMETER
        .matcher(text)
        .replaceAll(
            it ->
                it.group(1) != null
                    ? Matcher.quoteReplacement(it.group(1))
                    : it.group().startsWith("#") ? parameter : value);
  }

  private List<Path> mapperFiles() throws IOException {
    try (var files = Files.list(directory.resolve(MAPPERS))) {
      return files.toList();
    }
  }

  private void unpack() throws IOException {
    try (ZipFile jar = new ZipFile(JAR.toFile())) {
      for (ZipEntry entry : jar.stream().filter(it -> it.getName().startsWith(MAPPERS)).toList()) {
        if (entry.isDirectory()) {
          continue;
        }
        Path file = directory.resolve(entry.getName()).normalize();
        Files.createDirectories(file.getParent());
        try (InputStream in = jar.getInputStream(entry)) {
          Files.copy(in, file);
        }
      }
    }
  }
}
