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

/** Indexes made for foreign keys which go when a key can serve instead, held against MariaDB. */
class ReplacedIndexesTest {
  private static final RealDatabase MARIADB = RealDatabase.MARIADB;

  private static List<String> indexes(String... statements) throws Exception {
    SchemaFold fold = new SchemaFold(MARIADB.dialect());
    DdlReader reader = new DdlReader(MARIADB.dialect());
    try (Connection connection = MARIADB.open();
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
        fold.applyAll(
            reader.read(sql, Optional.empty(), offset -> SourceLocation.of("a.sql")).changes());
      }
      assertThat(fold.notUnderstood()).isEmpty();
      Schema schema = fold.schema();
      MARIADB.assertSame(schema, connection, String.join(";\n", statements));
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
                "create table berth (id int primary key)",
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
                "create table berth (id int primary key)",
                "create table mooring (berth_id int, side int, key (berth_id),"
                    + " foreign key (berth_id) references berth (id))",
                "alter table mooring add unique (berth_id, side)"))
        .containsExactlyInAnyOrder("berth_id(berth_id)", "berth_id_2(berth_id, side)");
  }
}
