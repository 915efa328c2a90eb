package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Changes that do more or less than their names say, held against Liquibase's own update. */
class SentChangesTest {
  private static final String TABLES =
      """
      <changeSet id="tables" author="harbour">
        <createTable tableName="berth">
          <column name="id" type="int">
            <constraints primaryKey="true" primaryKeyName="berth_pk" nullable="false"/>
          </column>
          <column name="code" type="varchar(20)">
            <constraints nullable="false" unique="true" uniqueConstraintName="berth_code_uq"/>
          </column>
        </createTable>
        <createTable tableName="mooring">
          <column name="id" type="int">
            <constraints primaryKey="true" primaryKeyName="mooring_pk" nullable="false"/>
          </column>
          <column name="berth_id" type="int">
            <constraints foreignKeyName="mooring_berth_fk" references="berth(id)"/>
          </column>
        </createTable>
      </changeSet>
      """;

  @TempDir Path directory;

  private void check(RealDatabase database, String changeSets) throws Exception {
    ChangelogResult result =
        new ChangelogFixture(directory)
            .database(database.dialect())
            .xml(TABLES + changeSets)
            .read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    try (Connection connection = database.open();
        RootsAccessor accessor = new RootsAccessor(directory, List.of(directory))) {
      RealSchema.update(connection, accessor, new ReadSession(accessor), "changelog.xml");
      database.assertSame(result.schema(), connection, database + changeSets);
    }
  }

  /** What is sent is DROP CONSTRAINT with the name, whatever kind of key the change speaks of. */
  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2", "DERBY", "HSQLDB"})
  void a_constraint_goes_by_its_name(RealDatabase database) throws Exception {
    check(
        database,
        """
        <changeSet id="other" author="harbour">
          <dropUniqueConstraint tableName="mooring" constraintName="mooring_pk"/>
          <dropForeignKeyConstraint baseTableName="berth" constraintName="berth_code_uq"/>
        </changeSet>
        """);
  }

  /** It asks which foreign keys the table has; of a table that is not there, none. */
  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2", "MARIADB"})
  void foreign_keys_of_no_table_can_be_dropped(RealDatabase database) throws Exception {
    check(
        database,
        """
        <changeSet id="none" author="harbour">
          <dropAllForeignKeyConstraints baseTableName="quay"/>
        </changeSet>
        """);
  }

  /** The statements of the change pass through the visitor and come out as they were. */
  @ParameterizedTest
  @EnumSource(names = {"POSTGRESQL", "H2", "MARIADB"})
  void modified_sql_can_stay_the_same(RealDatabase database) throws Exception {
    check(
        database,
        """
        <changeSet id="same" author="harbour">
          <dropAllForeignKeyConstraints baseTableName="mooring"/>
          <dropPrimaryKey tableName="mooring"/>
          <modifySql><replace replace="varchar(20)" with="varchar(30)"/></modifySql>
        </changeSet>
        """);
  }

  /** H2 builds the table anew, and the foreign key then finds an index that it did not need. */
  @ParameterizedTest
  @EnumSource(names = {"H2", "MARIADB"})
  void a_column_that_counts_is_defined_anew(RealDatabase database) throws Exception {
    check(
        database,
        """
        <changeSet id="counted" author="harbour">
          <dropPrimaryKey tableName="mooring"/>
          <createIndex tableName="mooring" indexName="mooring_berth_ix">
            <column name="berth_id"/>
          </createIndex>
          <addAutoIncrement tableName="mooring" columnName="berth_id" columnDataType="int"/>
        </changeSet>
        """);
  }
}
