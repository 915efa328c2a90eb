package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Queries that files hold under the names of repository methods. */
final class NamedQueryFilesTest {
  @TempDir private Path base;

  private NamedQueryFiles read() {
    return NamedQueryFiles.read(
        base, List.of(base.resolve("src/main/resources"), base.resolve("target/classes")));
  }

  private void write(String directory, String file, String text) throws IOException {
    Path path = base.resolve(directory).resolve("META-INF").resolve(file);
    Files.createDirectories(path.getParent());
    Files.writeString(path, text);
  }

  @Test
  void a_query_stands_at_its_line() throws IOException {
    String text =
        """
        # What the quay asks.
        Vessel.atBerth=select * from vessel where berth = :berth

        Vessel.late : select * from stay \\
            where departure < :now
        Vessel.empty=
        """;
    write("src/main/resources", "jdbc-named-queries.properties", text);
    write("target/classes", "jdbc-named-queries.properties", text);
    NamedQueryFiles files = read();
    FoundQueries found = files.queries(Mapping.NONE, "h2");
    String file = "src/main/resources/META-INF/jdbc-named-queries.properties";
    assertThat(files.names()).containsExactly("Vessel.atBerth", "Vessel.empty", "Vessel.late");
    assertThat(found.queries())
        .extracting(QueryText::id, it -> it.location().line(), QueryText::sql)
        .containsExactly(
            tuple(file + "#Vessel.atBerth", 2, "select * from vessel where berth = :berth"),
            tuple(file + "#Vessel.late", 4, "select * from stay where departure < :now"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(tuple(file + "#Vessel.empty", "the entry holds no text"));
  }

  @Test
  void what_jpa_is_given_is_jpql() throws IOException {
    write("target/classes", "jpa-named-queries.properties", "Vessel.all=select v from Vessel v");
    assertThat(read().queries(Mapping.NONE, "h2").unanalysed())
        .extracting(UnanalysedQuery::reason)
        .singleElement()
        .asString()
        .startsWith("Vessel is no entity");
  }

  @Test
  void a_file_that_is_no_property_file_is_one_entry() throws IOException {
    write("target/classes", "r2dbc-named-queries.properties", "Tug.all=\\u12");
    NamedQueryFiles files = read();
    assertThat(files.names()).isEmpty();
    assertThat(files.queries(Mapping.NONE, "h2").unreadable()).hasSize(1);
  }
}
