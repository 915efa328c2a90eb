package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.sql.StatementReading;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.hibernate.Session;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Written queries over mappings of every kind against what Hibernate ORM 7.4 sends for the same
 * text, with filters off and on: the same tables, kinds of join, conditions and columns.
 */
final class YardQueriesTest {
  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database =
        new PortDatabase(
            "yardqueries",
            YardStatementsTest.ENTITIES,
            Map.of("hibernate.tenant_identifier_resolver", new YardStatementsTest.OneTenant()));
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  static Stream<String> queries() {
    return HibernateComparisonTest.lines("yard-queries.txt");
  }

  @ParameterizedTest
  @MethodSource("queries")
  void reads_and_compares_the_same(String line) {
    char mark = line.charAt(1) == ' ' ? line.charAt(0) : ' ';
    String jpql = mark == ' ' ? line : line.substring(2);
    JpqlResult.Translated plain = translated(jpql);
    JpqlResult.Translated chosen = plain;
    if (mark == '+' && !plain.filtered().isEmpty()) {
      chosen = plain.filtered().get(plain.filtered().size() - 1);
    }
    List<String> all = new ArrayList<>(List.of(chosen.sql()));
    all.addAll(chosen.further());
    for (String sql : all) {
      assertThatCode(() -> database.prepare(sql)).as(sql).doesNotThrowAnyException();
    }
    Query ours = understood(database, chosen.sql());
    if (mark == '!') {
      return;
    }
    if (mark == '*') {
      changes_the_same(database, database.sentByHibernate(jpql), all);
      return;
    }
    List<String> sent =
        database.sentByHibernate(jpql, mark == '+' ? YardQueriesTest::filtered : session -> {});
    Query theirs =
        understood(
            database,
            HibernateComparisonTest.numbered(
                sent.stream()
                    .filter(it -> sent.size() == 1 || !it.startsWith("insert"))
                    .reduce((first, second) -> mark == ' ' ? first : second)
                    .orElse("")));
    assertThat(mark == '~' ? QueryShape.tablesOf(ours) : QueryShape.of(ours))
        .as("%s%nours      %s%nHibernate %s", jpql, chosen.sql(), sent)
        .isEqualTo(mark == '~' ? QueryShape.tablesOf(theirs) : QueryShape.of(theirs));
  }

  private static final Pattern CHANGED =
      Pattern.compile("(?i)^(?:delete from|update|merge into) ([\\w$]+)");

  /** What is between a place and the columns that are read: which rows are chosen. */
  private static final Pattern CHOSEN = Pattern.compile("from (.*) columns .*");

  /** The same tables are changed, and ours are the rows that Hibernate chooses. */
  static void changes_the_same(PortDatabase database, List<String> sent, List<String> ours) {
    assertThat(changed(ours)).as("ours      %s%nHibernate %s", ours, sent).isEqualTo(changed(sent));
    Set<String> chosen = new TreeSet<>();
    for (String sql : sent) {
      if (sql.startsWith("insert into HT_")) {
        chosen.add(chosen(database, sql.substring(sql.indexOf("select "))));
      } else if (!sql.contains("HT_")) {
        chosen.add(chosen(database, sql));
      }
    }
    assertThat(ours.stream().map(sql -> chosen(database, sql)).toList())
        .as("ours      %s%nHibernate %s", ours, sent)
        .allSatisfy(it -> assertThat(chosen).contains(it));
  }

  private static Set<String> changed(List<String> statements) {
    Set<String> tables = new TreeSet<>();
    for (String sql : statements) {
      Matcher matcher = CHANGED.matcher(sql);
      if (matcher.find() && !matcher.group(1).startsWith("HT_")) {
        tables.add(matcher.group(1));
      }
    }
    return tables;
  }

  /** The rows that a change is for: those of the block that finds them. */
  private static String chosen(PortDatabase database, String sql) {
    List<String> lines = QueryShape.of(understood(database, HibernateComparisonTest.numbered(sql)));
    String line =
        lines.stream().filter(it -> it.startsWith("IN ")).findFirst().orElse(lines.get(0));
    Matcher matcher = CHOSEN.matcher(line);
    assertThat(matcher.find()).as(line).isTrue();
    return matcher.group(1);
  }

  private static void filtered(Session session) {
    session.enableFilter("working");
    session.enableFilter("ofTenant").setParameter("tenant", 1);
  }

  private static JpqlResult.Translated translated(String jpql) {
    JpqlResult result = database.translate(jpql);
    return result instanceof JpqlResult.Translated translated
        ? translated
        : fail(jpql + ": " + result);
  }

  private static Query understood(PortDatabase database, String sql) {
    StatementReading reading = database.read(sql);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    return fail(sql + ": " + reading);
  }
}
