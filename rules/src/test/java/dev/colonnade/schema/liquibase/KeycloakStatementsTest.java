package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.RepositoryScanner;
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
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The named queries of Keycloak 26.0.0, translated, on a PostgreSQL 18 that Liquibase's own update
 * has brought to its schema: the server must accept each of them.
 */
final class KeycloakStatementsTest {
  private static final String ROOT = "META-INF/jpa-changelog-master.xml";
  private static final Path JAR = Path.of("target/services/keycloak-model-jpa.jar");

  /** A text in quotes, a cast, or a parameter. */
  private static final Pattern PARAMETER = Pattern.compile("('(?:[^']|'')*'|::\\w+)|\\?\\d+|:\\w+");

  @TempDir private Path directory;

  @Test
  void postgresql_accepts_every_translated_query() throws Exception {
    unpack();
    Schema schema =
        ChangelogReader.read(
                new ChangelogInput(
                    Dialects.postgresql(),
                    Path.of("."),
                    List.of(JAR),
                    List.of(RootChangelog.of(ROOT)),
                    Map.of()))
            .schema();
    ClassFiles classes = ClassFiles.read(directory, directory);
    Mapping mapping = new MappingReader(classes, schema).guess().mapping();
    FoundQueries found =
        new RepositoryScanner(directory, directory, List.of(), List.of())
            .scan(classes, mapping, "postgresql");
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.queries()).hasSizeGreaterThan(260);
    try (Connection connection = RealPostgres.newDatabase();
        RootsAccessor accessor = new RootsAccessor(Path.of("."), List.of(JAR))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), ROOT);
      assertThat(refusal(connection, "select nothing from realm")).contains("does not exist");
      assertThat(found.queries())
          .allSatisfy(
              query ->
                  assertThat(refusal(connection, query.sql())).as("%s", query.sql()).isEmpty());
      assertThat(columns(connection, new StatementParser(schema, Dialects.postgresql()), found))
          .hasSizeGreaterThan(140) // an update or delete is no view
          .allSatisfy((sql, columns) -> assertThat(columns.agree()).as("%s", columns).isTrue());
    }
  }

  /** By text, where the columns that we read and those that the server records differ. */
  private static Map<String, ReferencedColumns> columns(
      Connection connection, StatementParser parser, FoundQueries found) {
    Map<String, ReferencedColumns> result = new HashMap<>();
    for (QueryText text : found.queries()) {
      if (parser.parse(text) instanceof StatementReading.Analysed analysed) {
        String sql =
            PARAMETER
                .matcher(text.sql())
                .replaceAll(
                    it -> it.group(1) == null ? "null" : Matcher.quoteReplacement(it.group(1)));
        ReferencedColumns.compare(connection, sql, analysed.query())
            .ifPresent(it -> result.put(text.sql(), it));
      }
    }
    return result;
  }

  /** What the server says against the statement; empty where it takes it. */
  private static String refusal(Connection connection, String text) throws SQLException {
    String sql =
        PARAMETER
            .matcher(text)
            .replaceAll(it -> it.group(1) == null ? "?" : Matcher.quoteReplacement(it.group(1)));
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

  private void unpack() throws IOException {
    try (ZipFile jar = new ZipFile(JAR.toFile())) {
      for (ZipEntry entry : jar.stream().filter(it -> !it.isDirectory()).toList()) {
        Path file = directory.resolve(entry.getName()).normalize();
        Files.createDirectories(file.getParent());
        try (InputStream in = jar.getInputStream(entry)) {
          Files.copy(in, file);
        }
      }
    }
  }
}
