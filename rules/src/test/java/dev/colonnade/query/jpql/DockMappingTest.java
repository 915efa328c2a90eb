package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.jpql.dock.Company;
import dev.colonnade.query.jpql.dock.Vessel;
import dev.colonnade.query.sql.StatementReading;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Classes that an {@code hbm.xml} maps, with most of what its document type definition 3.0 offers:
 * queries over them as Hibernate ORM 7.4 sends them, on the tables that it makes of the same file.
 */
final class DockMappingTest {
  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database =
        PortDatabase.mappedIn(
            "dock", List.of(Vessel.class), List.of("dev/colonnade/query/jpql/dock/dock.hbm.xml"));
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @Test
  void names_of_tables_and_columns_are_those_that_hibernate_made() {
    assertThat(database.mapping().problems()).isEmpty();
    assertThat(database.mapping().mapping().entities()).hasSize(16);
  }

  @Test
  void a_collection_is_loaded_in_its_order_and_with_its_condition() throws SQLException {
    String loading = database.unwritten().get("Company.fleet").sql();
    List<String> sent =
        database.sentWhile(
            session -> {
              Company company = new Company();
              company.setCode("x");
              session.persist(company);
              session.flush();
              session.clear();
            },
            session -> {
              Company company =
                  session.createSelectionQuery("from Company", Company.class).getSingleResult();
              assertThat(company.vessels()).isEmpty();
            });
    String theirs = sent.get(sent.size() - 1);
    if (!(database.read(loading) instanceof StatementReading.Analysed ours)
        || !(database.read(theirs) instanceof StatementReading.Analysed read)) {
      throw new AssertionError(loading + " " + theirs);
    }
    assertThat(QueryShape.of(ours.query())).as(theirs).isEqualTo(QueryShape.of(read.query()));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "select b from Berth b where b.quay = :q and b.no > 3",
        "select b.id from Berth b where b.open = :o",
        "select n.text from Note n where n.company.name = :c and n.company.id = 3",
        "select n.text from Note n where n.company = :c",
        "select c.id from Company c join c.notes n where n.text = :t",
        "select n.text from Note n join n.watchers w where key(w).name = :p and value(w) > 2",
        "select n.text from Note n where n.more = :m and n.evenMore = :e",
        "select n.text from Note n where n.number = 5 and n.written.by = :b",
        "select b.id from Berth b where b.keeper.id = :k order by b.no desc",
        "select b.id from Berth b where b.keeper.name = :k",
        "select b.id from Berth b join b.tools t where t = 'crane'",
        "select b.id from Berth b where b.plan.drawing = :d",
        "select p.drawing from BerthPlan p where p.berth.quay = :q",
        "select p.drawing from BerthPlan p where p.id = :i",
        "select c.name from Company c where c.code = :c",
        "select v.name from Company c join c.fleet v where c.code = :c",
        "select a.licence from Agency a where a.name like 'x%' and a.principal.id = :p",
        "select t.tugs from TugAgency t where t.licence = :l and t.code = :c",
        "select v.id from Vessel v where v.imo = :i and v.version > 1",
        "select v.id from Vessel v where v.size.length > 5 and v.size.draught.full < 9",
        "select v.id from Vessel v where v.owner.code = :c and v.remark = 'x'",
        "select v.id from Vessel v where v.insurer.id = :i",
        "select v.id from Vessel v where v.insurer.name = :i",
        "select v.id from Vessel v join v.flags f where f = :f",
        "select v.id from Vessel v join v.names n where key(n) = 'de' and value(n) = :n",
        "select v.id from Vessel v join v.inspections i where i.result = :r and index(i) = 0",
        "select v.id from Vessel v join v.pilots p where p.name = :p",
        "select v.id from Vessel v where exists (select 1 from v.pilots p where p.id = :p)",
        "select v.id from Vessel v join v.marks m where m.text = :t and m.painter.id = :p",
        "select v.id from Vessel v where v.bookings is empty",
        "select v.id from Vessel v where size(v.flags) > 2",
        "select t.tanks from Tanker t where t.charterer.code = :c and t.name = :n",
        "select f.seats from Ferry f where f.deckPlan = :d",
        "select v.id from Vessel v where type(v) = Tanker",
        "select i.heldAt from Inspection i where i.vessel.imo = :i order by i.heldAt",
        "select p.id from Pilot p join p.vessels v where v.imo = :i",
        "select b.state from Booking b where b.id.vessel.id = :v and b.id.no = :n",
        "select b.state from Booking b where b.id.vessel.imo = :i and b.berth.quay = :q",
        "select c.amount from Booking b join b.charges c where b.state = :s",
        "select c.amount from Charge c where c.amount > 5",
        "select i.no from Invoice i where i.booking.state = :s",
        "select n.id from CreditNote n where n.invoice.no = :n",
        "select t.level from Tide t where t.station = :s and t.at > :a",
        "update Pilot p set p.name = :n where p.id = :o",
        "delete from Tide t where t.at < :a",
        "update Booking b set b.state = 'X' where b.berth.id = :b"
      })
  void reads_and_compares_the_same(String jpql) throws SQLException {
    Query ours = query(jpql);
    String sent = database.sentByHibernate(jpql).get(0);
    if (!(database.read(sent) instanceof StatementReading.Analysed theirs)) {
      throw new AssertionError("not read: " + sent);
    }
    assertThat(shape(ours)).as(sent).isEqualTo(shape(theirs.query()));
  }

  /** Which of the tables of a union comes first is nothing that a path depends on. */
  private static List<String> shape(Query query) {
    return QueryShape.of(query).stream()
        .map(line -> line.replaceFirst("^(DERIVED_TABLE|SET_OPERAND)", "PART"))
        .sorted()
        .toList();
  }

  private static Query query(String jpql) {
    if (!(database.translate(jpql) instanceof JpqlResult.Translated translated)) {
      return fail(database.translate(jpql).toString());
    }
    String sql = translated.sql();
    assertThatCode(() -> database.prepare(sql)).as(sql).doesNotThrowAnyException();
    return database.read(sql) instanceof StatementReading.Analysed read
        ? read.query()
        : fail("not read: " + sql);
  }
}
