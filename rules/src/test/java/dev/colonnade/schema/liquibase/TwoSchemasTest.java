package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Tables of one name in several schemas, compared with the catalogs of real databases. */
class TwoSchemasTest {
  private static final Path DIRECTORY = Path.of("src/test/resources/changelogs");
  private static final String FILE = "two-schemas.xml";

  private static Schema read(RealDatabase database) {
    ChangelogResult result =
        ChangelogReader.read(
            new ChangelogInput(
                database.dialect(),
                DIRECTORY,
                List.of(DIRECTORY),
                List.of(RootChangelog.of(FILE)),
                Map.of()));
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    return result.schema();
  }

  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2"})
  void equals_what_an_update_leaves_in_each_schema(RealDatabase database) throws Exception {
    Schema schema = read(database);
    boolean named = database == RealDatabase.POSTGRESQL;
    try (Connection connection = database.open()) {
      RealSchema.update(connection, RealSchema.accessor(DIRECTORY), null, FILE);
      assertThat(derived(schema, named))
          .containsExactlyElementsOf(real(connection, schema, named))
          .hasSizeGreaterThan(20);
    }
  }

  @Test
  void only_tables_that_share_a_name_show_their_schema() {
    assertThat(read(RealDatabase.POSTGRESQL).tables().stream().map(table -> table.name().text()))
        .containsExactly(
            "archive.booking",
            "archive.mooring",
            "billing.booking",
            "booking",
            "invoice",
            "mooring",
            "old_pilot",
            "pilot",
            "tide");
  }

  @Test
  void a_foreign_key_follows_its_table_when_another_schema_gets_one_of_that_name() {
    Table tide = read(RealDatabase.H2).table(new Identifier("tide")).orElseThrow();
    assertThat(tide.foreignKeys())
        .extracting(key -> key.referencedTable().text())
        .containsExactly("archive.booking");
  }

  private static SortedSet<String> derived(Schema schema, boolean named) {
    SortedSet<String> lines = new TreeSet<>();
    for (Table table : schema.tables()) {
      for (Column column : table.columns()) {
        lines.add(table.name() + "." + column.name());
      }
      for (Index index : table.indexes()) {
        List<String> columns =
            index.keyColumns().stream().map(part -> part.column().orElseThrow().text()).toList();
        lines.add(line(index.table().text(), named, index.name().text(), index.unique(), columns));
      }
      for (ForeignKey key : table.foreignKeys()) {
        lines.add(table.name() + " references " + key.referencedTable());
      }
    }
    return lower(lines);
  }

  private static String line(
      String table, boolean named, String name, boolean unique, List<String> columns) {
    return table + " " + (named ? name : "") + columns + (unique ? " unique" : "");
  }

  private static SortedSet<String> lower(SortedSet<String> lines) {
    SortedSet<String> lower = new TreeSet<>();
    lines.forEach(line -> lower.add(line.toLowerCase(Locale.ROOT)));
    return lower;
  }

  /** What JDBC's metadata says of the three schemas. */
  private static SortedSet<String> real(Connection connection, Schema schema, boolean named)
      throws SQLException {
    SortedSet<String> lines = new TreeSet<>();
    DatabaseMetaData data = connection.getMetaData();
    List<String[]> tables = new ArrayList<>();
    try (ResultSet found = data.getTables(null, null, null, null)) {
      while (found.next()) {
        String home = found.getString("TABLE_SCHEM").toLowerCase(Locale.ROOT);
        boolean table = String.valueOf(found.getString("TABLE_TYPE")).endsWith("TABLE");
        if (table
            && List.of("public", "billing", "archive").contains(home)
            && RealSchema.isOurs(found.getString("TABLE_NAME"))) {
          tables.add(new String[] {found.getString("TABLE_SCHEM"), found.getString("TABLE_NAME")});
        }
      }
    }
    for (String[] table : tables) {
      String id = id(schema, table[0], table[1]);
      try (ResultSet columns = data.getColumns(null, table[0], table[1], null)) {
        while (columns.next()) {
          lines.add(id + "." + columns.getString("COLUMN_NAME"));
        }
      }
      Map<String, List<String>> keys = new TreeMap<>();
      try (ResultSet rows = data.getIndexInfo(null, table[0], table[1], false, true)) {
        while (rows.next()) {
          String name = rows.getString("INDEX_NAME") + "!" + rows.getBoolean("NON_UNIQUE");
          keys.computeIfAbsent(name, key -> new ArrayList<>()).add(rows.getString("COLUMN_NAME"));
        }
      }
      keys.forEach(
          (name, columns) ->
              lines.add(
                  line(
                      id,
                      named,
                      name.substring(0, name.indexOf('!')),
                      name.endsWith("!false"),
                      columns)));
      try (ResultSet parents = data.getImportedKeys(null, table[0], table[1])) {
        while (parents.next()) {
          String parent =
              id(schema, parents.getString("PKTABLE_SCHEM"), parents.getString("PKTABLE_NAME"));
          lines.add(id + " references " + parent);
        }
      }
    }
    return lower(lines);
  }

  /** The name that our schema gives the table. */
  private static String id(Schema schema, String home, String name) {
    Identifier full = Identifier.in(Optional.of(new Identifier(home)), new Identifier(name));
    boolean told = schema.tables().stream().anyMatch(table -> table.name().equals(full));
    return told ? full.text() : name;
  }
}
