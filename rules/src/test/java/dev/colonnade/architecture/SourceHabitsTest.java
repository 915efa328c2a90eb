package dev.colonnade.architecture;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Habits that only the source text shows. */
class SourceHabitsTest {
  /** About 400: a file is split when it outgrows that, not at every line more. */
  private static final int LONGEST_FILE = 420;

  /** A sealed family stands in one file with all its kinds: one small record after the other. */
  private static final int LONGEST_FAMILY = 500;

  private static final Set<String> FAMILIES =
      Set.of(
          "dev/colonnade/predicate/Predicate.java",
          "dev/colonnade/schema/change/SchemaChange.java");

  /** Words each database's own statement in a caution; decides nothing. */
  private static final String WORDING = "dev/colonnade/finding/ProductionCaution.java";

  private static final Path SOURCES = Path.of("src", "main", "java");

  /** Packages that ask a database's facts and must not ask its name. */
  private static final List<String> WITHOUT_VENDORS =
      List.of("access", "design", "finding", "rule", "rules", "statistics", "query", "predicate");

  private static final Pattern LITERAL = Pattern.compile("\"((?:[^\"\\\\\\n]|\\\\.)*)\"");

  private static final Pattern VENDOR =
      Pattern.compile(
          "\\b(postgres(ql)?|mysql|mariadb|innodb|oracle|mssql|sql server|db2|sqlite|h2|hsqldb"
              + "|derby)\\b");

  private static Map<String, String> sources(Path directory) throws IOException {
    Map<String, String> texts = new TreeMap<>();
    try (Stream<Path> files = Files.walk(directory)) {
      for (Path file : files.filter(it -> it.toString().endsWith(".java")).toList()) {
        texts.put(directory.relativize(file).toString().replace('\\', '/'), Files.readString(file));
      }
    }
    return texts;
  }

  private static boolean isComment(String line) {
    return line.startsWith("*") || line.startsWith("/*") || line.startsWith("//");
  }

  /** The string literals of a source that name a database; comments may name one. */
  static List<String> vendorLiterals(String source) {
    List<String> found = new ArrayList<>();
    source
        .lines()
        .map(String::strip)
        .filter(line -> !isComment(line))
        .forEach(
            line -> {
              Matcher literal = LITERAL.matcher(line);
              while (literal.find()) {
                if (VENDOR.matcher(literal.group(1).toLowerCase(Locale.ROOT)).find()) {
                  found.add(literal.group(1));
                }
              }
            });
    return found;
  }

  @Test
  void no_file_is_longer_than_a_reader_likes() throws IOException {
    Map<String, Long> tooLong = new TreeMap<>();
    sources(SOURCES)
        .forEach(
            (file, text) -> {
              int longest = FAMILIES.contains(file) ? LONGEST_FAMILY : LONGEST_FILE;
              if (text.lines().count() > longest) {
                tooLong.put(file, text.lines().count());
              }
            });
    assertThat(tooLong).isEmpty();
  }

  @Test
  void the_analysis_names_no_database_in_its_texts() throws IOException {
    Map<String, List<String>> named = new TreeMap<>();
    sources(SOURCES)
        .forEach(
            (file, text) -> {
              String below = file.replace("dev/colonnade/", "");
              int slash = below.lastIndexOf('/');
              List<String> literals = vendorLiterals(text);
              if (slash > 0
                  && !file.equals(WORDING)
                  && WITHOUT_VENDORS.contains(below.substring(0, slash).replace('/', '.'))
                  && !literals.isEmpty()) {
                named.put(file, literals);
              }
            });
    assertThat(named).isEmpty();
  }

  @Test
  void the_search_for_names_finds_them() {
    assertThat(
            vendorLiterals(
                """
                // "mysql" in a comment is fine
                 * as is "derby" in Javadoc
                if (name.equals("postgresql") || name.equals("SQLite")) {
                  return "a \\"quoted\\" text of oracle";
                }
                return "the oracles of h20 and db";
                """))
        .containsExactly("postgresql", "SQLite", "a \\\"quoted\\\" text of oracle");
  }
}
