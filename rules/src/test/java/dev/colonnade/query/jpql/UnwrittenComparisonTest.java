package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.port.Booking;
import dev.colonnade.query.jpql.port.Company;
import dev.colonnade.query.jpql.port.Pilot;
import dev.colonnade.query.jpql.port.Vessel;
import dev.colonnade.query.sql.StatementReading;
import jakarta.persistence.LockModeType;
import java.lang.reflect.Field;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.hibernate.Hibernate;
import org.hibernate.Session;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The statements that nobody wrote against those that Hibernate ORM 7.4 sends when a collection or
 * a reference is loaded and a versioned row is changed: the same tables, conditions, order and
 * columns.
 */
final class UnwrittenComparisonTest {
  private static final Map<String, Class<?>> ENTITIES =
      Map.of(
          "Booking", Booking.class,
          "Company", Company.class,
          "Pilot", Pilot.class,
          "Vessel", Vessel.class);

  private static PortDatabase database;
  private static Map<String, QueryText> unwritten;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
    unwritten = database.unwritten();
    database.execute(
        "insert into company (id, change_count, name, closed) values (1, 0, 'Line', false)",
        "insert into vessel (id, change_count, vessel_name, length, owner_id)"
            + " values (1, 0, 'Gull', 90, 1)",
        "insert into booking (id, change_count, reference, paid, vessel_id)"
            + " values (1, 0, 'A', false, 1)",
        "insert into pilot (id, name) values (1, 'Ada')");
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @ParameterizedTest
  @CsvSource({
    "Booking, notes",
    "Booking, pilots",
    "Company, vessels",
    "Pilot, bookings",
    "Vessel, bookings",
    "Vessel, nicknames",
    "Vessel, papers"
  })
  void loads_a_collection_alike(String entity, String attribute) {
    Object[] owner = new Object[1];
    compare(
        entity + "." + attribute,
        session -> owner[0] = session.find(ENTITIES.get(entity), 1L),
        session -> Hibernate.initialize(valueOf(owner[0], attribute)));
  }

  private static Object valueOf(Object entity, String attribute) {
    try {
      Field field = entity.getClass().getDeclaredField(attribute);
      field.setAccessible(true);
      return field.get(entity);
    } catch (ReflectiveOperationException e) {
      throw new LinkageError(e.getMessage(), e);
    }
  }

  @Test
  void loads_a_referenced_row_alike() {
    compare("Company#load", session -> {}, session -> session.find(Company.class, 1L));
    compare("Vessel#load", session -> {}, session -> session.find(Vessel.class, 1L));
  }

  /** A reference without a column of its own is looked for with the row that has it. */
  @Test
  void loads_an_inverse_reference_alike() {
    List<String> sent =
        database.sentWhile(session -> {}, session -> session.find(Booking.class, 1L));
    assertThat(QueryShape.of(understood(ours("Booking.invoice"))))
        .isEqualTo(QueryShape.of(understood(sent.get(sent.size() - 1))));
  }

  @Test
  void changes_a_versioned_row_alike() {
    Vessel[] vessel = new Vessel[1];
    compare(
        "Vessel#update",
        session -> vessel[0] = session.find(Vessel.class, 1L),
        session -> session.lock(vessel[0], LockModeType.PESSIMISTIC_FORCE_INCREMENT));
  }

  @Test
  void each_statement_can_be_prepared() {
    assertThat(unwritten).hasSizeGreaterThan(12);
    unwritten
        .values()
        .forEach(
            text ->
                assertThatCode(() -> database.prepare(text.sql()))
                    .as(text.sql())
                    .doesNotThrowAnyException());
  }

  private static void compare(String id, Consumer<Session> before, Consumer<Session> during) {
    List<String> sent = database.sentWhile(before, during);
    assertThat(sent).as(id).isNotEmpty();
    assertThat(QueryShape.of(understood(ours(id))))
        .as("%s%nours      %s%nHibernate %s", id, ours(id), sent.get(0))
        .isEqualTo(QueryShape.of(understood(sent.get(0))));
  }

  private static String ours(String id) {
    assertThat(unwritten).containsKey(id);
    return unwritten.get(id).sql();
  }

  private static Query understood(String sql) {
    StatementReading reading = database.read(sql);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    return fail(sql + ": " + reading);
  }
}
