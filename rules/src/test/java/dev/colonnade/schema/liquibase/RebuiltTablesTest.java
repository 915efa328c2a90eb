package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is left of SQLite's tables when Liquibase builds them anew, held against its own update. */
class RebuiltTablesTest {
  private static final String TABLES =
      """
      <changeSet id="tables" author="harbour">
        <createTable tableName="berth">
          <column name="id" type="int">
            <constraints primaryKey="true" unique="true"/>
          </column>
          <column name="code" type="varchar(20)"><constraints unique="true"/></column>
          <column name="depth" type="int"/>
        </createTable>
        <createTable tableName="mooring">
          <column name="number" type="int"/>
          <column name="berth_id" type="int">
            <constraints foreignKeyName="mooring_berth_fk" references="berth(id)"/>
          </column>
        </createTable>
      </changeSet>
      """;

  @TempDir Path directory;

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "<createIndex tableName='berth' indexName='n15'><column name='code'/></createIndex>"
            + "<createIndex tableName='berth' indexName='n21'><column name='depth'/></createIndex>"
            + "<createIndex tableName='berth' indexName='n14' unique='true'>"
            + "<column name='depth' descending='true'/></createIndex>"
            + "<addDefaultValue tableName='berth' columnName='depth' defaultValueNumeric='9'/>",
        "<addAutoIncrement tableName='mooring' columnName='number' columnDataType='int'/>",
        "<addAutoIncrement tableName='berth' columnName='id' columnDataType='int'/>",
        "<addAutoIncrement tableName='mooring' columnName='length' columnDataType='int'/>",
        "<addDefaultValue tableName='berth' columnName='depth' defaultValueNumeric='9'/>",
        "<dropColumn tableName='berth' columnName='depth'/>",
        "<addColumn tableName='berth'><column name='wide' type='int'>"
            + "<constraints nullable='false'/></column></addColumn>"
      })
  void a_table_is_built_anew(String change) throws Exception {
    String changeSets = TABLES + "<changeSet id='anew' author='harbour'>" + change + "</changeSet>";
    RealDatabase database = RealDatabase.SQLITE;
    ChangelogResult result =
        new ChangelogFixture(directory).database(database.dialect()).xml(changeSets).read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = database.open();
        RootsAccessor accessor = new RootsAccessor(directory, List.of(directory))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), "changelog.xml");
      database.assertSame(result.schema(), connection, change);
    }
  }
}
