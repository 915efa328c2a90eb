package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.sql.StatementReading;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Translated queries against what Hibernate ORM 7.4 itself sends for the same text: the same tables
 * with the same kinds of join, the same conditions, grouping, order, limit and columns.
 */
final class HibernateComparisonTest {
  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  static Stream<String> queries() {
    return Stream.of("port-queries.txt", "hql-features.txt", "further-queries.txt")
        .flatMap(HibernateComparisonTest::lines);
  }

  static Stream<String> lines(String resource) {
    try (InputStream in = HibernateComparisonTest.class.getResourceAsStream(resource)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8)
          .lines().filter(line -> !line.isBlank() && !line.startsWith("#")).toList().stream();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void names_of_tables_and_columns_are_those_that_hibernate_made() {
    assertThat(database.mapping().problems()).isEmpty();
  }

  @ParameterizedTest
  @MethodSource("queries")
  void reads_and_compares_the_same(String line) {
    boolean differs = line.startsWith("~ ");
    boolean onlyPrepared = line.startsWith("! ");
    String jpql = differs || onlyPrepared ? line.substring(2) : line;
    String sql = translated(jpql);
    assertThatCode(() -> database.prepare(sql)).as(sql).doesNotThrowAnyException();
    for (String further : database.further(jpql)) {
      assertThatCode(() -> database.prepare(further)).as(further).doesNotThrowAnyException();
      understood(further);
    }
    Query ours = understood(sql);
    if (onlyPrepared) {
      return;
    }
    List<String> sent = database.sentByHibernate(jpql);
    assertThat(sent).as(jpql).isNotEmpty();
    String own =
        numbered(
            sent.stream()
                .filter(it -> sent.size() == 1 || sameVerb(it, sql))
                .reduce((first, second) -> second)
                .orElse(""));
    Query theirs = understood(own);
    assertThat(differs ? QueryShape.tablesOf(ours) : QueryShape.of(ours))
        .as("%s%nours      %s%nHibernate %s", jpql, sql, own)
        .isEqualTo(differs ? QueryShape.tablesOf(theirs) : QueryShape.of(theirs));
    if (differs) {
      assertThat(QueryShape.of(ours))
          .as("%s: marked as different, and is not%nours      %s%nHibernate %s", jpql, sql, own)
          .isNotEqualTo(QueryShape.of(theirs));
    }
  }

  /** Each parameter is one of its own. */
  static String numbered(String sql) {
    StringBuilder result = new StringBuilder();
    int number = 0;
    for (int i = 0; i < sql.length(); i++) {
      char c = sql.charAt(i);
      result.append(c).append(c == '?' ? String.valueOf(++number) : "");
    }
    return result.toString();
  }

  private static boolean sameVerb(String left, String right) {
    return left.replace("(", "").substring(0, 4).equals(right.substring(0, 4));
  }

  private static String translated(String jpql) {
    JpqlResult result = database.translate(jpql);
    return result instanceof JpqlResult.Translated translated
        ? translated.sql()
        : fail(jpql + ": " + result);
  }

  private static Query understood(String sql) {
    StatementReading reading = database.read(sql);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    return fail(sql + ": " + reading);
  }
}
