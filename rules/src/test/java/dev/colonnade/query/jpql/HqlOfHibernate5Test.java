package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URISyntaxException;
import java.sql.SQLException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Forms that Hibernate ORM 5 took and 7 refuses, met in services that still run on it: what they
 * meant is from memory of its user guide.
 */
final class HqlOfHibernate5Test {
  private static PortDatabase database;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new PortDatabase();
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  private static String sql(String jpql) throws SQLException {
    JpqlResult result = database.translate(jpql);
    assertThat(result).isInstanceOf(JpqlResult.Translated.class);
    String sql = ((JpqlResult.Translated) result).sql();
    database.prepare(sql);
    return sql;
  }

  @Test
  void an_alias_is_a_list_of_one() throws SQLException {
    assertThat(sql("select b.id from Booking b join b.pilots p where :pilot in p"))
        .endsWith(" where :pilot in (p.id)");
  }

  @Test
  void a_column_of_the_entity_stands_for_itself() throws SQLException {
    assertThat(sql("select count(*) from Booking b where vessel_id = :vessel"))
        .isEqualTo("select count(*) from Booking b where b.vessel_id = :vessel");
    assertThat(database.translate("select count(*) from Booking b where harbour_id = 1"))
        .isInstanceOf(JpqlResult.NotTranslated.class);
  }

  /** Hibernate ORM 4.2.21's parser takes the first two; no version takes the others. */
  @Test
  void parentheses_that_close_none_are_left_out_at_the_end() throws SQLException {
    assertThat(sql("select b.id from Booking b where b.id = :id)"))
        .isEqualTo(sql("select b.id from Booking b where b.id = :id"));
    assertThat(
            sql("delete Booking b where b.id in (select p.id from Pilot p where p.name = ')') )"))
        .endsWith(" where p.name = ')')");
    assertThat(database.translate("select b.id from Booking b where b.id = :id) and b.id = 2"))
        .isInstanceOf(JpqlResult.NotTranslated.class);
    assertThat(database.translate("select b.id from Booking b where (b.id = :id"))
        .isInstanceOf(JpqlResult.NotTranslated.class);
  }
}
