package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Changes of entities in several tables: which tables change and by which columns rows are found.
 * That each statement is one of the database's, {@link HibernateComparisonTest} shows.
 */
final class TableChangesTest {
  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  private static List<String> statements(String jpql) {
    JpqlResult result = database.translate(jpql);
    assertThat(result).isInstanceOf(JpqlResult.Translated.class);
    JpqlResult.Translated translated = (JpqlResult.Translated) result;
    List<String> all = new ArrayList<>(List.of(translated.sql()));
    all.addAll(translated.further());
    return all;
  }

  @Test
  void a_joined_hierarchy_loses_rows_of_every_table() {
    assertThat(statements("delete from Vessel v where v.name = :name"))
        .containsExactlyInAnyOrder(
            "delete from Vessel where Vessel.vessel_name = :name",
            "delete from Vessel_nicknames where Vessel_id in"
                + " (select vessel_2.id from Vessel vessel_2 where vessel_2.vessel_name = :name)",
            "delete from vessel_paper where vessel in"
                + " (select vessel_3.id from Vessel vessel_3 where vessel_3.vessel_name = :name)",
            "delete from Tanker where id in"
                + " (select vessel_4.id from Vessel vessel_4 where vessel_4.vessel_name = :name)",
            "delete from Tug where vessel_id in"
                + " (select vessel_5.id from Vessel vessel_5 where vessel_5.vessel_name = :name)");
  }

  @Test
  void an_update_touches_the_tables_of_its_assignments() {
    assertThat(statements("update Tug t set t.name = 'x', t.bollardPull = 5 where t.id = :id"))
        .containsExactly(
            "update Vessel set vessel_name = 'x' where id in"
                + " (select tug_3.vessel_id from Tug tug_3 where tug_3.vessel_id = :id)",
            "update Tug set bollard_pull = 5 where Tug.vessel_id = :id");
    assertThat(statements("update Vessel v set v.length = v.length + 1 where v.name = :name"))
        .containsExactly(
            "update Vessel set length = Vessel.length + 1 where Vessel.vessel_name = :name");
  }

  @Test
  void tables_per_class_change_one_by_one() {
    assertThat(statements("update Movement m set m.moment = null where m.booking.id = :booking"))
        .containsExactly(
            "update Entrance set moment = null where Entrance.booking_id = :booking",
            "update Exit set moment = null where Exit.booking_id = :booking");
  }

  @Test
  void a_secondary_table_is_found_by_its_key() {
    assertThat(statements("update Pilot p set p.licence = 'x' where p.name = :name"))
        .containsExactly(
            "update licence set licence_no = 'x' where pilot_id in"
                + " (select pilot_2.id from Pilot pilot_2 where pilot_2.name = :name)");
  }

  @Test
  void tables_of_owned_collections_lose_their_rows() {
    assertThat(statements("delete from Booking b where b.paid = true"))
        .containsExactly(
            "delete from Booking where Booking.paid = true",
            "delete from booking_pilot where booking in"
                + " (select booking.id from Booking booking where booking.paid = true)");
  }

  @Test
  void a_value_from_a_further_table_is_not_translated() {
    assertThat(database.translate("update Tug t set t.name = t.owner.name"))
        .isInstanceOf(JpqlResult.NotTranslated.class);
  }
}
