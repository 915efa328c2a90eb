package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.mapping.xml.MappingFiles;
import dev.colonnade.mapping.xml.XmlMappings;
import dev.colonnade.schema.Schema;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Entities and their superclasses that lie in jars on the class path. */
final class LibraryEntitiesTest {
  @TempDir private Path base;

  @Test
  void what_entities_build_on_is_read_from_jars() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.lib; @jakarta.persistence.MappedSuperclass"
                + " public class Base<K> { @jakarta.persistence.Id K id; }",
            "package org.example.lib; @jakarta.persistence.Entity"
                + " public class Port extends Base<Long> { String name; }",
            "package org.example.lib; @jakarta.persistence.Entity"
                + " public class Unused extends Base<Long> { String name; }",
            "package org.example.harbour; @jakarta.persistence.Entity"
                + " public class Berth extends org.example.lib.Base<Long> {"
                + " @jakarta.persistence.ManyToOne org.example.lib.Port port; int depth; }",
            "package org.example.harbour; public class Dao { jakarta.persistence.EntityManager em;"
                + " Object a() { return em.createQuery("
                + "\"select b.id from Berth b where b.port.name = :name\"); } }");
    Path jar = move(service, "org/example/lib", List.of("Base", "Port", "Unused"));
    MappingReading reading =
        new MappingReader(
                ClassFiles.read(base, service.classes(), Map.of(), List.of(jar)), Schema.EMPTY)
            .read(NamingStrategy.JPA);
    Mapping mapping = reading.mapping();
    assertThat(mapping.entities()).extracting(Entity::name).containsExactly("Berth", "Port");
    assertThat(mapping.entity("Port").orElseThrow().location())
        .hasToString("lib.jar!/org/example/lib/Port.class:1");
    assertThat(reading.problems())
        .extracting(it -> it.reason())
        .containsExactly("entity Berth: its table Berth is not in the schema");
    FoundQueries found =
        new BodyScanner(base, List.of())
            .scan(ClassFiles.read(base, service.classes()), mapping, "postgresql");
    assertThat(found.queries().get(0).sql())
        .isEqualTo(
            "select b.id from Berth b join Port b_port on b_port.id = b.port_id"
                + " where b_port.name = :name");
  }

  @Test
  void classes_of_jars_are_entities_where_a_mapping_file_says_so() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.lib; public class Port { private long id; private String name; }",
            "package org.example.lib; public class Other { private long id; }",
            "package org.example.harbour; public class Dao {}");
    Path jar = move(service, "org/example/lib", List.of("Port", "Other"));
    Files.writeString(
        service.classes().resolve("Port.hbm.xml"),
        """
        <hibernate-mapping default-access="field">
          <class name="org.example.lib.Port" table="t_port">
            <id name="id"/>
            <property name="name" column="port_name"/>
          </class>
        </hibernate-mapping>
        """);
    XmlMappings files = MappingFiles.read(base, service.classes(), List.of());
    ClassFiles classes = ClassFiles.read(base, service.classes(), files.classes(), List.of(jar));

    Mapping mapping = new MappingReader(classes, Schema.EMPTY).read(NamingStrategy.JPA).mapping();

    assertThat(mapping.entities()).extracting(Entity::name).containsExactly("Port");
    assertThat(mapping.entity("Port").orElseThrow().table()).hasToString("t_port");
    assertThat(mapping.entity("Port").orElseThrow().location())
        .hasToString("target/classes/Port.hbm.xml:2");
    assertThat(classes.unreadable()).isEmpty();
  }

  @Test
  void a_jar_that_is_none_has_no_classes() throws IOException {
    CompiledService service =
        CompiledService.of(
            base,
            "package org.example.harbour; @jakarta.persistence.Entity"
                + " public class Berth { @jakarta.persistence.Id long id; }");
    Path broken = Files.writeString(base.resolve("broken.jar"), "no jar");
    ClassFiles classes = ClassFiles.read(base, service.classes(), Map.of(), List.of(broken));
    assertThat(new MappingReader(classes, Schema.EMPTY).guess().mapping().entities()).hasSize(1);
  }

  private Path move(CompiledService service, String folder, List<String> names) throws IOException {
    Path jar = base.resolve("lib.jar");
    try (OutputStream out = Files.newOutputStream(jar);
        ZipOutputStream zip = new ZipOutputStream(out)) {
      for (String name : names) {
        Path file = service.classes().resolve(folder).resolve(name + ".class");
        zip.putNextEntry(new ZipEntry(folder + "/" + name + ".class"));
        zip.write(Files.readAllBytes(file));
        Files.delete(file);
      }
    }
    return jar;
  }
}
