package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.RepositoryScanner;
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
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The named queries of Keycloak 26.0.0 over the schema that its changelog leads to. */
final class KeycloakQueriesTest {
  private static final Path JAR = Path.of("target/services/keycloak-model-jpa.jar");

  @TempDir private Path directory;

  @Test
  void every_named_query_is_translated_and_read() throws IOException {
    unpack();
    Dialect dialect = Dialects.postgresql();
    Schema schema =
        ChangelogReader.read(
                new ChangelogInput(
                    dialect,
                    directory,
                    List.of(directory),
                    List.of(RootChangelog.of("META-INF/jpa-changelog-master.xml")),
                    Map.of()))
            .schema();
    ClassFiles classes = ClassFiles.read(directory, directory);
    MappingReading mapping = new MappingReader(classes, schema).guess();
    assertThat(mapping.problems()).isEmpty();
    assertThat(mapping.mapping().entities()).hasSizeGreaterThan(50);

    FoundQueries found =
        new RepositoryScanner(directory, directory, List.of(), List.of())
            .scan(classes, mapping.mapping(), dialect.shortName());
    StatementParser parser = new StatementParser(schema, dialect);
    List<UnanalysedQuery> rest = new ArrayList<>(found.unanalysed());
    for (QueryText text : found.queries()) {
      if (parser.parse(text) instanceof StatementReading.NotAnalysed not) {
        rest.add(not.query());
      }
    }
    assertThat(found.total()).isGreaterThan(260);
    assertThat(rest).isEmpty();
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
