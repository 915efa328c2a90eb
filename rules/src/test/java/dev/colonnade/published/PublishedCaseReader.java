package dev.colonnade.published;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.published.PublishedCase.Check;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/**
 * Reads the files of published examples: blocks apart by empty lines, each with a first line {@code
 * ID EVIDENCE DATABASE}, then definitions, queries, and behind each query what is expected.
 */
final class PublishedCaseReader {
  private static final List<String> FILES =
      List.of(
          "postgresql.cases",
          "mysql.cases",
          "mariadb.cases",
          "sqlite.cases",
          "oracle-mssql.cases",
          "db2.cases",
          "embedded.cases",
          "textbook.cases");

  private PublishedCaseReader() {}

  static List<PublishedCase> all() {
    List<PublishedCase> cases = new ArrayList<>();
    FILES.forEach(file -> cases.addAll(read(file)));
    return cases;
  }

  /** The lines of a file beside the cases. */
  static List<String> lines(String file) {
    try (InputStream stream = PublishedCaseReader.class.getResourceAsStream(file)) {
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8).lines().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<PublishedCase> read(String file) {
    List<PublishedCase> cases = new ArrayList<>();
    String source = "";
    List<String> block = new ArrayList<>();
    int number = 0;
    int start = 0;
    List<String> lines = new ArrayList<>(lines(file));
    lines.add("");
    for (String line : lines) {
      number++;
      if (line.startsWith("source ")) {
        source = line.substring("source ".length());
      } else if (!line.isBlank() && !line.startsWith("#")) {
        start = block.isEmpty() ? number : start;
        block.add(line.strip());
      } else if (!block.isEmpty()) {
        cases.add(read(block, source, file + ":" + start));
        block.clear();
      }
    }
    return cases;
  }

  private static PublishedCase read(List<String> block, String source, String place) {
    String[] head = block.get(0).split(" ", -1);
    List<String> definitions = new ArrayList<>();
    List<Check> checks = new ArrayList<>();
    for (String line : block.subList(1, block.size())) {
      if (line.startsWith("query ")) {
        checks.add(new Check(line.substring("query ".length()), new ArrayList<>()));
      } else if (line.contains(" -> ")) {
        checks.get(checks.size() - 1).expectations().add(line);
      } else {
        definitions.add(line);
      }
    }
    return new PublishedCase(
        head[0], head[1], source, place, dialect(head[2]), List.copyOf(definitions), checks);
  }

  private static Dialect dialect(String name) {
    return name.equals("postgresql<18")
        ? Dialects.postgresqlBefore18()
        : Dialects.byShortName(name).orElseThrow();
  }
}
