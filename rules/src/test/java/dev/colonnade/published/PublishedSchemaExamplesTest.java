package dev.colonnade.published;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.design.SurplusIndexes;
import dev.colonnade.design.SurplusIndexes.Surplus;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.ForeignKeyIndex;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Published statements about which indexes a schema has, and which of them are surplus. */
class PublishedSchemaExamplesTest {
  /** The rows of the list of published examples that are checked here. */
  static final List<String> ROWS =
      List.of(
          "PG-33", "MA-28", "OR-03", "OR-14", "DE-12", "HS-01", "HS-09", "H2-02", "SL-30", "PG-60");

  private static Stream<Arguments> surplus() {
    return Stream.of(
        // https://www.postgresql.org/docs/18/indexes-unique.html, DOC: an index on the columns of
        // a key only duplicates the one that is made automatically
        Arguments.of(
            "PG-33",
            Dialects.postgresql(),
            List.of("table t(id int not null, a, primary key (id))", "unique hand_made(id)"),
            List.of("hand_made is a copy of pk")),
        // building-the-best-index-for-a-given-select.md, DOC: (a) beside (a, b)
        Arguments.of(
            "MA-28",
            Dialects.mariadb(),
            List.of("table t(a, b, c)", "index ia(a)", "index iab(a, b)"),
            List.of("ia leads iab")),
        // Oracle Concepts 19c, chapter 3, DOC: two orders of two columns, neither is redundant
        Arguments.of(
            "OR-03",
            Dialects.oracle(),
            List.of(
                "table employees(last_name, job_id, salary)",
                "index one(last_name, job_id)",
                "index other(job_id, last_name)"),
            List.of()),
        // HSQLDB guide, management, DOC: UNIQUE (c1, c2, c3) serves as an index on (c1)
        Arguments.of(
            "HS-01",
            Dialects.hsqldb(),
            List.of("table t(c1, c2, c3, c4)", "unique u(c1, c2, c3)", "index i1(c1)"),
            List.of("i1 leads u")),
        // https://h2database.com/html/performance.html, DOC: no index on (city) alone is needed
        Arguments.of(
            "H2-02",
            Dialects.h2(),
            List.of(
                "table address(city, name, first_name)",
                "index index_place(city, name, first_name)",
                "index index_city(city)"),
            List.of("index_city leads index_place")),
        // https://www.sqlite.org/queryplanner.html, DOC and RUN: Idx1 beside Idx3
        Arguments.of(
            "SL-30",
            Dialects.sqlite(),
            List.of(
                "table fruitsforsale(fruit text, state text, price real)",
                "index idx1(fruit)",
                "index idx3(fruit, state)"),
            List.of("idx1 leads idx3")),
        // https://www.postgresql.org/docs/18/indexes-index-only-scans.html, DOC: uniqueness of
        // (x) include (y) covers x only, so a unique (x, y) is no substitute
        Arguments.of(
            "PG-60",
            Dialects.postgresql(),
            List.of("table t(x, y, z)", "unique ux(x) include (y)", "unique uxy(x, y)"),
            List.of()));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("surplus")
  void surplus_indexes(
      String row, Dialect dialect, List<String> definitions, List<String> expected) {
    assertThat(ROWS).contains(row);
    var table = SchemaNotation.read(definitions, dialect).tables().iterator().next();
    SurplusIndexes indexes = new SurplusIndexes(table, dialect);
    List<String> found =
        Stream.concat(
                indexes.duplicates().stream().map(it -> text(it, " is a copy of ")),
                indexes.prefixes().stream().map(it -> text(it, " leads ")))
            .toList();
    assertThat(found).isEqualTo(expected);
  }

  private static String text(Surplus surplus, String relation) {
    Identifier keeper = surplus.keeper().name();
    return surplus.index().name() + relation + keeper;
  }

  /**
   * Oracle Concepts 19c, chapter 3, and the guides of Derby (rtunoptimz1004810.html) and HSQLDB
   * (management), DOC: primary keys and unique constraints are indexed automatically everywhere,
   * foreign keys on the last two.
   */
  @ParameterizedTest
  @CsvSource({"OR-14, oracle, false", "DE-12, derby, true", "HS-09, hsqldb, true"})
  void foreign_keys_bring_an_index_along(String row, String database, boolean expected) {
    assertThat(ROWS).contains(row);
    Dialect dialect = Dialects.byShortName(database).orElseThrow();
    assertThat(dialect.features().foreignKeyIndexed().value()).isEqualTo(expected);
    assertThat(SchemaRules.of(dialect).foreignKeyIndex().value() != ForeignKeyIndex.NONE)
        .isEqualTo(expected);
  }
}
