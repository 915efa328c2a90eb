package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Entities and texts that do not fit: one entry each, the rest goes on. */
final class MisfitsTest {
  @TempDir private Path base;

  @Test
  void two_entities_of_one_name_and_a_text_that_is_no_query_are_one_entry_each() {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.a; @jakarta.persistence.Entity"
                + " @jakarta.persistence.NamedQuery(name = \"torn\", query = \"choose a berth\")"
                + " public class Berth { @jakarta.persistence.Id long id; }",
            "package org.example.b; @jakarta.persistence.Entity"
                + " @jakarta.persistence.NamedQuery(name = \"all\", query = \"from Berth\")"
                + " public class Berth { @jakarta.persistence.Id long id; }");
    ClassFiles classes = ClassFiles.read(base, service.classes());
    MappingReading reading = new MappingReader(classes, Schema.EMPTY).guess();
    assertThat(reading.problems())
        .filteredOn(it -> it.reason().contains("has the same name"))
        .singleElement()
        .satisfies(
            it ->
                assertThat(it.location().file())
                    .isEqualTo("target/classes/org/example/b/Berth.class"));
    FoundQueries found =
        new RepositoryScanner(base, service.classes(), List.of(service.sources()), List.of())
            .scan(classes, reading.mapping(), "postgresql");
    assertThat(found.queries())
        .extracting(QueryText::id)
        .containsExactly(
            "org.example.a.Berth#load", "org.example.b.Berth#all", "org.example.b.Berth#load");
    assertThat(found.unanalysed())
        .singleElement()
        .satisfies(
            it -> {
              assertThat(it.id()).isEqualTo("org.example.a.Berth#torn");
              assertThat(it.reason()).startsWith("the text is not JPQL");
            });
  }
}
