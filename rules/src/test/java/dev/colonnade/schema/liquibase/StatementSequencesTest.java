package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import java.sql.Connection;
import java.sql.Statement;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Sequences of statements in which one thing hangs on another, held against real databases. */
class StatementSequencesTest {
  private static final String BERTH = "create table berth (id int primary key)";

  /** The indexes of mooring after the statements, which must be those of the catalog. */
  private static List<String> indexes(RealDatabase database, String... statements)
      throws Exception {
    SchemaFold fold = new SchemaFold(database.dialect());
    DdlReader reader = new DdlReader(database.dialect());
    try (Connection connection = database.open();
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
        fold.applyAll(
            reader.read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql")).changes());
      }
      assertThat(fold.notUnderstood()).isEmpty();
      Schema schema = fold.schema();
      database.assertSame(schema, connection, database + ": " + String.join(";\n", statements));
      return schema.table(new Identifier("mooring")).orElseThrow().indexes().stream()
          .map(Index::render)
          .toList();
    }
  }

  /** Both want the name of the column; the index goes first, so that its name is free. */
  @Test
  void an_unnamed_unique_key_takes_the_name_of_the_index_that_it_replaces() throws Exception {
    assertThat(
            indexes(
                RealDatabase.MARIADB,
                BERTH,
                "create table mooring (berth_id int, side int,"
                    + " foreign key (berth_id) references berth (id))",
                "alter table mooring add unique (berth_id, side)"))
        .containsExactly("berth_id(berth_id, side)");
  }

  /** An index that was asked for stays, and with it its name. */
  @Test
  void an_unnamed_unique_key_leaves_the_name_of_an_index_that_stays() throws Exception {
    assertThat(
            indexes(
                RealDatabase.MARIADB,
                BERTH,
                "create table mooring (berth_id int, side int, key (berth_id),"
                    + " foreign key (berth_id) references berth (id))",
                "alter table mooring add unique (berth_id, side)"))
        .containsExactlyInAnyOrder("berth_id(berth_id)", "berth_id_2(berth_id, side)");
  }

  /** Without its first column, the other index leads with the foreign key's. */
  @Test
  void an_index_made_for_a_foreign_key_gives_way_to_one_that_lost_a_column() throws Exception {
    assertThat(
            indexes(
                RealDatabase.MARIADB,
                BERTH,
                "create table mooring (side int, berth_id int, kind int,"
                    + " foreign key (berth_id) references berth (id))",
                "create index mooring_side on mooring (side, berth_id)",
                "alter table mooring drop column side"))
        .containsExactly("mooring_side(berth_id)");
  }

  /** The second takes over the index of the first, and then goes as well. */
  @Test
  void the_index_that_two_foreign_keys_share_goes_with_the_last_of_them() throws Exception {
    assertThat(
            indexes(
                RealDatabase.H2,
                "create table berth (id int unique, side int)",
                "create table mooring (berth_id int)",
                "alter table mooring add constraint mooring_fk"
                    + " foreign key (berth_id) references berth (id)",
                "alter table mooring add constraint mooring_other_fk"
                    + " foreign key (berth_id) references berth (id)",
                "alter table berth drop column id"))
        .isEmpty();
  }

  /** The name that was chosen for the first key stays taken when its column has another. */
  @ParameterizedTest
  @EnumSource(names = {"HSQLDB", "DERBY"})
  void unnamed_keys_on_columns_of_one_name_have_names_of_their_own(RealDatabase database)
      throws Exception {
    String rename =
        database == RealDatabase.DERBY
            ? "rename column mooring.side to quay"
            : "alter table mooring alter column side rename to quay";
    assertThat(
            indexes(
                database,
                "create table mooring (side int not null unique, berth_id int)",
                rename,
                "alter table mooring add column side int default 1 not null unique"))
        .hasSize(2);
  }
}
