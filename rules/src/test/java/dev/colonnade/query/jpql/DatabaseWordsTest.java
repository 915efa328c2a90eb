package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.net.URISyntaxException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * What databases write differently, prepared by the databases themselves where they run embedded,
 * else by H2 in its mode for them (H2 documentation, "Compatibility Modes"), which knows less than
 * they do: what it does not know is left out there by name.
 */
final class DatabaseWordsTest {
  private static final List<String> QUERIES =
      List.of(
          "select b.reference from Booking b order by b.reference limit 10 offset 20",
          "select b.reference from Booking b limit 5",
          "select b.reference from Booking b where b.paid = true",
          "select v.name || ' of ' || b.reference from Booking b join b.vessel v",
          "select length(b.reference) from Booking b where locate('a', b.reference) > 0",
          "select locate('a', b.reference, 2) from Booking b",
          "select substring(b.reference, 1, 3), substring(b.reference, 2) from Booking b",
          "select left(b.reference, 2), right(b.reference, 2) from Booking b",
          "select mod(b.cargoTons, 3), b.cargoTons % 3, abs(b.cargoTons) from Booking b",
          "select extract(year from b.arrival), month(b.arrival) from Booking b",
          "select cast(b.cargoTons as String), cast(b.reference as Integer) from Booking b",
          "select b.id from Booking b where b.arrival < current_timestamp",
          "select coalesce(b.cargoTons, 0), nullif(b.cargoTons, 0) from Booking b",
          "select ifnull(b.cargoTons, 1) from Booking b",
          "select b.id from Booking b where b.reference ilike 'a%'",
          "select b.id from Booking b where b.arrival + 1 day > current_timestamp",
          "select lpad(b.reference, 10, '*') from Booking b",
          "select listagg(b.reference, ',') within group (order by b.reference) from Booking b",
          "select b.id from Booking b where b.paid = true except select v.id from Vessel v",
          "with t as (select b.id as id from Booking b) select u.id from t u",
          "update Booking b set b.paid = false where b.reference = 'x'",
          "delete from Note n where n.line > 3");

  private static final Map<String, String> ADDRESSES =
      Map.of(
          "h2", "jdbc:h2:mem:words",
          "oracle", "jdbc:h2:mem:words_o;MODE=Oracle",
          "mssql", "jdbc:h2:mem:words_m;MODE=MSSQLServer",
          "db2", "jdbc:h2:mem:words_d;MODE=DB2",
          "mysql", "jdbc:h2:mem:words_y;MODE=MySQL",
          "mariadb", "jdbc:h2:mem:words_r;MODE=MariaDB",
          "hsqldb", "jdbc:hsqldb:mem:words",
          "sqlite", "jdbc:sqlite::memory:",
          "derby", "jdbc:derby:memory:words;create=true");

  /** Parts of queries that the engine that stands for the database does not know. */
  private static final Map<String, Set<String>> UNKNOWN =
      Map.of(
          "derby", Set.of("lpad", "listagg", "with t"),
          "db2", Set.of("+ 1 day"),
          "mysql", Set.of("+ 1 day"),
          "mariadb", Set.of("+ 1 day"),
          "oracle", Set.of("+ 1 day"),
          "mssql", Set.of("extract", "current_timestamp", "lpad"));

  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @TestFactory
  Stream<DynamicTest> each_database_takes_its_words() {
    return ADDRESSES.keySet().stream().sorted().map(name -> dynamicTest(name, () -> check(name)));
  }

  private static void check(String name) throws SQLException {
    try (Connection connection = DriverManager.getConnection(ADDRESSES.get(name))) {
      create(connection, name);
      for (String query : QUERIES) {
        if (UNKNOWN.getOrDefault(name, Set.of()).stream().anyMatch(query::contains)) {
          continue;
        }
        JpqlResult result = new JpqlTranslator(database.mapping().mapping(), name).translate(query);
        assertThat(result).as("%s: %s", name, query).isInstanceOf(JpqlResult.Translated.class);
        String sql = ((JpqlResult.Translated) result).sql();
        assertThatCode(() -> prepare(connection, sql))
            .as("%s: %s", name, sql)
            .doesNotThrowAnyException();
      }
    }
  }

  private static void create(Connection connection, String name) throws SQLException {
    String moment = name.equals("mssql") ? "datetime" : "timestamp";
    // Oracle before 23 has no truth values: a number stands for one.
    String truth = name.equals("oracle") ? "int" : "boolean";
    try (Statement statement = connection.createStatement()) {
      statement.execute(
          "create table Booking (id bigint, reference varchar(50), arrival "
              + moment
              + ", paid "
              + truth
              + ", cargo_tons int, vessel_id bigint)");
      statement.execute("create table Vessel (id bigint, vessel_name varchar(50))");
      statement.execute("create table Note (booking_id bigint, line int)");
    }
  }

  private static void prepare(Connection connection, String sql) throws SQLException {
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
      statement.clearParameters();
    }
  }
}
