package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.mapping.xml.MappingFiles;
import dev.colonnade.mapping.xml.XmlMappings;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Entities whose tables are in schemas of their own, told in annotations and mapping files. */
final class SchemaNamesTest {
  /** Three tables named booking, one of them in the default schema; the rest has one name each. */
  private static final Schema SCHEMA =
      new Schema(
          List.of(
              table("booking", "", "id", "berth"),
              table("archive.booking", "archive", "id", "berth"),
              table("billing.booking", "billing", "id", "berth"),
              table("note", "", "id", "text"),
              table("archive.note", "archive", "id", "text"),
              table("archive.booking_pilots", "archive", "old_id", "pilots_id"),
              table("booking_pilots", "", "old_id", "pilots_id"),
              table("pilot", "billing", "id"),
              table("tide", "", "id")),
          List.of());

  @TempDir private Path base;

  private static Table table(String name, String schema, String... columns) {
    return new Table(
        new Identifier(name),
        Optional.of(schema).filter(it -> !it.isEmpty()).map(Identifier::new),
        Stream.of(columns)
            .map(it -> Column.of(it, ColumnType.of("bigint", TypeFamily.INTEGER), true))
            .toList(),
        List.of(new Identifier(columns[0])),
        List.of(),
        List.of(),
        SourceLocation.of("db/harbour.xml"));
  }

  private static String entity(String name, String table, String members) {
    return "package org.example.harbour; import jakarta.persistence.*; "
        + table
        + " public class "
        + name
        + " { @Id long id; "
        + members
        + " }";
  }

  private Mapping read(CompiledService service) {
    XmlMappings files = MappingFiles.read(base, service.classes(), List.of());
    ClassFiles classes = ClassFiles.read(base, service.classes(), files.classes(), List.of());
    MappingReading reading = new MappingReader(classes, SCHEMA).read(NamingStrategy.SNAKE_CASE);
    assertThat(reading.problems()).isEmpty();
    return reading.mapping();
  }

  private static String columns(Mapping mapping, String entity, String attribute) {
    Entity found = mapping.entity(entity).orElseThrow();
    return Entity.columnsOf(List.of(found.attributeAt(attribute).orElseThrow())).stream()
        .map(it -> it.table() + " " + it.name())
        .reduce((a, b) -> a + "," + b)
        .orElse("");
  }

  @Test
  void annotations_name_the_schema_of_each_table() {
    CompiledService service =
        CompiledService.of(
            base,
            entity("Booking", "@Entity", "long berth;"),
            entity(
                "Old",
                "@Entity @Table(name = \"booking\", schema = \"archive\")"
                    + " @SecondaryTable(name = \"note\", schema = \"archive\")"
                    + " @NamedQuery(name = \"ofBerth\","
                    + " query = \"select o.text, p from Old o join o.pilots p where o.berth = 1\")",
                "long berth; @Column(table = \"note\") String text;"
                    + " @ManyToMany @JoinTable(schema = \"archive\")"
                    + " java.util.Set<Pilot> pilots;"),
            entity("Billed", "@Entity @Table(name = \"booking\", catalog = \"billing\")", ""),
            entity("Pilot", "@Entity @Table(schema = \"billing\")", ""),
            entity("Tide", "@Entity @Table(schema = \"elsewhere\")", ""));
    Mapping mapping = read(service);
    assertThat(mapping.entities())
        .extracting(it -> it.name() + " " + it.table())
        .containsExactlyInAnyOrder(
            "Booking booking",
            "Old archive.booking",
            "Billed billing.booking",
            "Pilot billing.pilot",
            "Tide tide");
    assertThat(columns(mapping, "Old", "berth")).isEqualTo("archive.booking berth");
    assertThat(columns(mapping, "Old", "text")).isEqualTo("archive.note text");

    FoundQueries found =
        new RepositoryScanner(base, service.classes(), List.of(service.sources()), List.of())
            .scan(ClassFiles.read(base, service.classes()), mapping, "postgresql");
    QueryText text =
        found.queries().stream().filter(it -> it.id().endsWith("#ofBerth")).findAny().orElseThrow();
    assertThat(text.sql())
        .contains("from archive.booking o")
        .contains("archive.booking_pilots p_archive_booking_pilots")
        .contains("join billing.pilot p");
    assertThat(tablesOf(text))
        .containsExactlyInAnyOrder(
            "archive.booking", "archive.note", "archive.booking_pilots", "pilot");
  }

  private static List<String> tablesOf(QueryText text) {
    StatementReading reading =
        new StatementParser(SCHEMA, Dialects.byShortName("postgresql").orElseThrow()).parse(text);
    assertThat(reading).isInstanceOf(StatementReading.Analysed.class);
    return ((StatementReading.Analysed) reading)
        .query().blocks().stream()
            .flatMap(block -> block.tables().stream())
            .map(TableUse::table)
            .map(Identifier::text)
            .toList();
  }

  @Test
  void orm_xml_names_a_schema_for_the_file_and_for_one_table() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.harbour; public class Booking { long id; long berth; }",
            "package org.example.harbour; public class Billed { long id; String text; }");
    Path file = service.classes().resolve("META-INF/orm.xml");
    Files.createDirectories(file.getParent());
    Files.writeString(
        file,
        """
        <entity-mappings xmlns="https://jakarta.ee/xml/ns/persistence/orm" version="3.1">
          <package>org.example.harbour</package><schema>archive</schema><access>FIELD</access>
          <entity class="Booking" metadata-complete="true">
            <attributes><id name="id"/></attributes>
          </entity>
          <entity class="Billed" metadata-complete="true">
            <table name="booking" schema="billing"/>
            <secondary-table name="note"/>
            <attributes>
              <id name="id"/><basic name="text"><column table="note"/></basic>
            </attributes>
          </entity>
        </entity-mappings>
        """);
    Mapping mapping = read(service);
    assertThat(mapping.entity("Booking").orElseThrow().table()).hasToString("archive.booking");
    assertThat(mapping.entity("Billed").orElseThrow().table()).hasToString("billing.booking");
    assertThat(columns(mapping, "Billed", "text")).isEqualTo("archive.note text");
  }

  @Test
  void hbm_xml_names_a_schema_for_the_file_and_for_one_table() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.harbour; public class Booking { long id; long berth;"
                + " String text; java.util.Set<Booking> pilots; }",
            "package org.example.harbour; public class Billed { long id; }");
    Path file = service.classes().resolve("Harbour.hbm.xml");
    Files.writeString(
        file,
        """
        <hibernate-mapping package="org.example.harbour" schema="archive">
          <class name="Booking">
            <id name="id"/>
            <property name="berth"/>
            <set name="pilots" table="booking_pilots">
              <key column="old_id"/><many-to-many class="Booking" column="pilots_id"/>
            </set>
            <join table="note"><key column="id"/><property name="text"/></join>
          </class>
          <class name="Billed" table="booking" schema="billing"><id name="id"/></class>
        </hibernate-mapping>
        """);
    Mapping mapping = read(service);
    assertThat(mapping.entity("Booking").orElseThrow().table()).hasToString("archive.booking");
    assertThat(mapping.entity("Billed").orElseThrow().table()).hasToString("billing.booking");
    assertThat(columns(mapping, "Booking", "text")).isEqualTo("archive.note text");
    assertThat(mapping.entity("Booking").orElseThrow().attribute("pilots").orElseThrow())
        .asString()
        .contains("archive.booking_pilots");
  }
}
