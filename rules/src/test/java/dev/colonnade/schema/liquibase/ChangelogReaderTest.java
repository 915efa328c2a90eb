package dev.colonnade.schema.liquibase;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Change types and formats. The expected names are those that PostgreSQL gives. */
class ChangelogReaderTest {
  @TempDir Path directory;

  @Test
  void reads_tables_keys_and_indexes_with_their_lines() {
    ChangelogFixture fixture =
        new ChangelogFixture(directory)
            .xml(
                """
                <changeSet id="1" author="harbour">
                  <createTable tableName="berth">
                    <column name="id" type="bigint" autoIncrement="true">
                      <constraints primaryKey="true" nullable="false"/>
                    </column>
                    <column name="code" type="varchar(10)">
                      <constraints nullable="false" unique="true"/>
                    </column>
                  </createTable>
                  <createTable tableName="booking">
                    <column name="id" type="bigint">
                      <constraints primaryKey="true" primaryKeyName="booking_pk"/>
                    </column>
                    <column name="berth_id" type="bigint">
                      <constraints foreignKeyName="booking_berth_fk" references="berth(id)"/>
                    </column>
                    <column name="arrival" type="timestamp"/>
                    <column name="remark" type="text"/>
                  </createTable>
                </changeSet>
                <changeSet id="2" author="harbour">
                  <createIndex tableName="booking" indexName="booking_ix">
                    <column name="berth_id"/>
                    <column name="arrival" descending="true"/>
                  </createIndex>
                  <addUniqueConstraint tableName="booking" columnNames="arrival, berth_id,"/>
                </changeSet>
                """);
    ChangelogResult result = fixture.read();
    assertThat(ChangelogFixture.reasons(result)).isEmpty();
    assertThat(result.total()).isEqualTo(4);
    assertThat(result.applied()).isEqualTo(4);
    assertThat(fixture.table("berth"))
        .containsExactly(
            "id BIG_INTEGER not null",
            "code TEXT not null",
            "key [id]",
            "unique berth_code_key(code) unique-constraint 4",
            "unique berth_pkey(id) primary-key 4");
    assertThat(fixture.table("booking"))
        .containsExactly(
            "id BIG_INTEGER not null",
            "berth_id BIG_INTEGER",
            "arrival TIMESTAMP",
            "remark TEXT",
            "key [id]",
            "references [berth_id] berth",
            "unique booking_arrival_berth_id_key(arrival, berth_id) unique-constraint 28",
            "index booking_ix(berth_id, arrival desc) create-index 24",
            "unique booking_pk(id) primary-key 12");
  }

  @Test
  void reads_formatted_sql() {
    ChangelogFixture fixture =
        new ChangelogFixture(directory)
            .file(
                "db/booking.sql",
                """
                --liquibase formatted sql

                --changeset harbour:1
                create table vessel (
                  id integer primary key,
                  name varchar(80) not null,
                  constraint vessel_name_uq unique (name)
                );
                create index vessel_lower_ix on vessel (lower(name) text_pattern_ops);

                --changeset harbour:2 endDelimiter:/
                create index vessel_part_ix on vessel (name, id desc)
                  include (id) where name is not null
                /
                drop index vessel_lower_ix
                """)
            .root("db/booking.sql");
    assertThat(ChangelogFixture.reasons(fixture.read())).isEmpty();
    assertThat(fixture.table("vessel"))
        .containsExactly(
            "id INTEGER not null",
            "name TEXT not null",
            "key [id]",
            "unique vessel_name_uq(name) unique-constraint 7",
            "index vessel_part_ix(name, id desc) include (id) where name is not null"
                + " create-index 12",
            "unique vessel_pkey(id) primary-key 5");
  }
}
