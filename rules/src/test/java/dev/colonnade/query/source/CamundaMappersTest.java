package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.liquibase.ChangelogInput;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import dev.colonnade.schema.liquibase.ChangelogReader;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The mapper files of Camunda 7.21.0 ({@code org.camunda.bpm:camunda-engine}) over the schema that
 * its changelog leads to on PostgreSQL. A statement counts as analysed when one of its variants is:
 * its conditions depend on each other by the rules of the engine, and many variants are texts that
 * it never sends and that are no SQL.
 */
final class CamundaMappersTest {
  private static final Path JAR = Path.of("target/services/camunda-engine.jar");
  private static final Pattern WITHOUT_TEXT =
      Pattern.compile("is passed in as \\$\\{sql} at run time|has no text on this database");
  private static final Pattern EXPECTED =
      Pattern.compile(
          "can become more texts|of its statements are other databases'|" + WITHOUT_TEXT.pattern());
  private static final String MAPPERS = "org/camunda/bpm/engine/impl/mapping/entity/";

  @TempDir private Path directory;

  @Test
  void nearly_every_statement_is_read() throws IOException {
    unpack();
    Dialect dialect = Dialects.postgresql();
    Schema schema =
        ChangelogReader.read(
                new ChangelogInput(
                    dialect,
                    directory,
                    List.of(directory),
                    List.of(
                        RootChangelog.of(
                            "org/camunda/bpm/engine/db/liquibase/camunda-changelog.xml")),
                    Map.of()))
            .schema();
    FoundQueries found =
        MapperFiles.read(
            new MapperReader(directory, dialect.shortName(), CamundaProperties.forPostgresql()),
            mapperFiles());
    StatementParser parser = new StatementParser(schema, dialect);
    Set<String> statements = new TreeSet<>();
    Set<String> analysed = new TreeSet<>();
    Map<String, String> reasons = new TreeMap<>();
    found.unanalysed().forEach(query -> refused(query, statements, reasons));
    for (QueryText text : found.queries()) {
      if (analysed.contains(statement(text.id()))) {
        continue;
      }
      StatementReading reading = parser.parse(text);
      if (reading instanceof StatementReading.NotAnalysed not) {
        refused(not.query(), statements, reasons);
      } else {
        statements.add(statement(text.id()));
        analysed.add(statement(text.id()));
      }
    }
    analysed.retainAll(statements);
    reasons.keySet().removeAll(analysed);
    assertThat(statements).hasSizeGreaterThan(600);
    assertThat(analysed.size() * 100.0 / statements.size())
        .as(() -> analysed.size() + " of " + statements.size() + ", without " + reasons)
        .isGreaterThanOrEqualTo(99);
    // Whole statements that callers pass in, and one that is empty on this database.
    assertThat(found.withoutText()).isEqualTo(21);
    assertThat(found.unreadable().stream().filter(it -> WITHOUT_TEXT.matcher(it.reason()).find()))
        .hasSize(21);
    assertThat(reasons.values())
        .allMatch(reason -> reason.matches("(?s)" + MAPPERS + "\\w+\\.xml:\\d+: .+"));
    assertThat(found.unreadable())
        .as("statements with more variants than are looked at")
        .isNotEmpty()
        .allMatch(note -> EXPECTED.matcher(note.reason()).find());
  }

  private static void refused(
      UnanalysedQuery query, Set<String> statements, Map<String, String> reasons) {
    statements.add(statement(query.id()));
    reasons.putIfAbsent(statement(query.id()), query.location() + ": " + query.reason());
  }

  private static String statement(String id) {
    return id.replaceAll("#\\d+$", "");
  }

  private List<Path> mapperFiles() throws IOException {
    try (var files = Files.list(directory.resolve(MAPPERS))) {
      return files.toList();
    }
  }

  private void unpack() throws IOException {
    try (ZipFile jar = new ZipFile(JAR.toFile())) {
      for (ZipEntry entry : jar.stream().filter(it -> !it.isDirectory()).toList()) {
        if (entry.getName().endsWith(".class")) {
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
