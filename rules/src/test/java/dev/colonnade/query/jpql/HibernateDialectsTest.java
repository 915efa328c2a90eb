package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.sql.StatementReading;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Translated queries against what Hibernate ORM 7.4's dialect classes make of the same text for
 * databases that are not at hand: the same tables with the same kinds of join, the same conditions,
 * grouping, order and columns. No others may differ than those in {@code dialect-differences.txt}.
 */
final class HibernateDialectsTest {
  private static final Map<String, String> DIALECTS =
      new TreeMap<>(
          Map.of(
              "postgresql", "PostgreSQLDialect",
              "mysql", "MySQLDialect",
              "mariadb", "MariaDBDialect",
              "oracle", "OracleDialect",
              "mssql", "SQLServerDialect",
              "db2", "DB2Dialect",
              "hsqldb", "HSQLDialect"));

  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  static Set<String> databases() {
    return DIALECTS.keySet();
  }

  @ParameterizedTest
  @MethodSource("databases")
  void says_what_the_dialect_says(String name) {
    Set<String> known =
        HibernateComparisonTest.lines("dialect-differences.txt")
            .filter(line -> line.startsWith(name + " "))
            .map(line -> line.substring(name.length() + 1))
            .collect(Collectors.toCollection(TreeSet::new));
    List<String> different = new ArrayList<>();
    int compared = 0;
    try (OfflineHibernate hibernate =
        new OfflineHibernate(
            "org.hibernate.dialect." + DIALECTS.get(name), PortDatabase.ENTITIES)) {
      for (String jpql : queries()) {
        String own = hibernate.sql(jpql);
        if (own.isEmpty()) {
          continue;
        }
        compared++;
        if (!isSame(name, jpql, own)) {
          different.add(jpql);
        }
      }
    }
    assertThat(compared).isGreaterThan(420);
    assertThat(known).as(name).containsAll(different);
  }

  /** Queries whose translation for H2 is the same as Hibernate's. */
  private static List<String> queries() {
    return Stream.of("port-queries.txt", "hql-features.txt", "further-queries.txt")
        .flatMap(HibernateComparisonTest::lines)
        .filter(line -> line.charAt(1) != ' ')
        .toList();
  }

  private static boolean isSame(String name, String jpql, String own) {
    return new JpqlTranslator(database.mapping().mapping(), name).translate(jpql)
            instanceof JpqlResult.Translated translated
        && database.read(translated.sql(), name) instanceof StatementReading.Analysed ours
        && database.read(HibernateComparisonTest.numbered(own), name)
            instanceof StatementReading.Analysed theirs
        && QueryShape.of(ours.query()).equals(QueryShape.of(theirs.query()));
  }
}
