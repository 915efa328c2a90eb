package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.xml.MappingFiles;
import dev.colonnade.mapping.xml.XmlMappings;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Classes mapped in XML: plain ones, annotated ones, ones that inherit what is mapped. */
final class MappingFileTest {
  @TempDir private Path base;
  private CompiledService service;

  @BeforeEach
  void compile() {
    service =
        CompiledService.of(
            base,
            "package org.example.harbour; public class Base { protected long key;"
                + " public java.util.Date getMade() { return null; } }",
            "package org.example.harbour; public class Berth extends Base {"
                + " String name; Integer depth; String shown; Pier pier; Size size;"
                + " java.util.Set<Visit> visits; java.util.List<String> flags;"
                + " java.util.Map<String, String> notes; }",
            "package org.example.harbour; public class Pier { long id; String name;"
                + " java.util.Set<Berth> berths; }",
            "package org.example.harbour; public class DeepPier extends Pier { int metres; }",
            "package org.example.harbour; public class Visit { long id; Berth berth; Kind kind; }",
            "package org.example.harbour; public class Size { int length; Pier measuredAt; }",
            "package org.example.harbour; public enum Kind { CALL, STAY }",
            "package org.example.harbour; @jakarta.persistence.Entity public class Tide {"
                + " @jakarta.persistence.Id long id; int height; String moon; }");
  }

  private record Read(XmlMappings files, ClassFiles classes, Mapping mapping) {
    Entity entity(String name) {
      return mapping.entity(name).orElseThrow();
    }

    String column(String entity, String path) {
      return Entity.columnsOf(List.of(entity(entity).attributeAt(path).orElseThrow())).stream()
          .map(it -> it.table() + "." + it.name())
          .reduce((a, b) -> a + "," + b)
          .orElse("");
    }
  }

  private Read read(String file, String text) throws IOException {
    Path path = service.classes().resolve(file);
    Files.createDirectories(path.getParent());
    Files.writeString(path, text);
    XmlMappings files = MappingFiles.read(base, service.classes(), List.of());
    ClassFiles classes = ClassFiles.read(base, service.classes(), files.classes(), List.of());
    Mapping mapping = new MappingReader(classes, Schema.EMPTY).read(NamingStrategy.JPA).mapping();
    return new Read(files, classes, mapping);
  }

  private static final String ORM =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <entity-mappings xmlns="https://jakarta.ee/xml/ns/persistence/orm" version="3.1">
        <package>org.example.harbour</package>
        <access>FIELD</access>
        <named-query name="deepBerths">
          <query>
            select b from Quay b
            where b.depth > :depth
          </query>
        </named-query>
        <named-native-query name="all"><query>select * from quay</query></named-native-query>
        <mapped-superclass class="Base" metadata-complete="true">
          <attributes><id name="key"><column name="berth_key"/></id></attributes>
        </mapped-superclass>
        <entity class="Berth" name="Quay" metadata-complete="true">
          <table name="quay"/>
          <secondary-table name="quay_text">
            <primary-key-join-column name="quay_ref"/>
          </secondary-table>
          <attributes>
            <basic name="name"><column name="label" table="quay_text"/></basic>
            <many-to-one name="pier" optional="false"><join-column name="pier_ref"/></many-to-one>
            <one-to-many name="visits" mapped-by="berth"/>
            <element-collection name="flags">
              <column name="flag"/>
              <collection-table name="quay_flag"><join-column name="quay"/></collection-table>
            </element-collection>
            <element-collection name="notes">
              <map-key-column name="lang"/><column name="note"/>
              <collection-table name="quay_note"><join-column name="quay"/></collection-table>
            </element-collection>
            <embedded name="size">
              <attribute-override name="length"><column name="len"/></attribute-override>
            </embedded>
            <transient name="shown"/>
          </attributes>
        </entity>
        <entity class="Pier">
          <inheritance strategy="JOINED"/>
          <attributes><id name="id"/><one-to-many name="berths" mapped-by="pier"/></attributes>
        </entity>
        <entity class="DeepPier"><table name="deep_pier"/><primary-key-join-column name="pier_id"/></entity>
        <entity class="Visit">
          <attributes>
            <id name="id"/>
            <basic name="kind"><enumerated>STRING</enumerated></basic>
            <many-to-one name="berth"/>
          </attributes>
        </entity>
        <entity class="Tide">
          <table name="tides"/>
          <attributes><basic name="height"><column name="cm"/></basic></attributes>
        </entity>
        <embeddable class="Size">
          <attributes><many-to-one name="measuredAt"><join-column name="at_pier"/></many-to-one></attributes>
        </embeddable>
      </entity-mappings>
      """;

  @Test
  void orm_xml_maps_plain_classes_and_overrides_annotations() throws IOException {
    Read read = read("META-INF/harbour-orm.xml", ORM);
    assertThat(read.mapping().entities())
        .extracting(Entity::name)
        .containsExactly("Quay", "DeepPier", "Pier", "Tide", "Visit");
    assertThat(read.entity("Quay").location())
        .hasToString("target/classes/META-INF/harbour-orm.xml:15");
    assertThat(read.column("Quay", "key")).isEqualTo("quay.berth_key");
    assertThat(read.column("Quay", "name")).isEqualTo("quay_text.label");
    assertThat(read.column("Quay", "depth")).isEqualTo("quay.depth");
    assertThat(read.column("Quay", "pier")).isEqualTo("quay.pier_ref");
    assertThat(read.column("Quay", "size.length")).isEqualTo("quay.len");
    assertThat(read.column("Quay", "size.measuredAt")).isEqualTo("quay.at_pier");
    assertThat(read.entity("Quay").attribute("shown")).isEmpty();
    assertThat(read.entity("DeepPier").inheritance()).isEqualTo(Inheritance.JOINED);
    assertThat(read.column("DeepPier", "id")).isEqualTo("deep_pier.pier_id");
    assertThat(read.column("Tide", "height")).isEqualTo("tides.cm");
    assertThat(read.column("Tide", "moon")).isEqualTo("tides.moon");
  }

  @Test
  void queries_of_orm_xml_are_found_with_their_lines() throws IOException {
    Read read = read("META-INF/harbour-orm.xml", ORM);
    FoundQueries found =
        MappingFileQueries.read(read.files().queries(), read.mapping(), "postgresql");
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.queries())
        .extracting(QueryText::id)
        .containsExactly("META-INF/harbour-orm.xml#all", "META-INF/harbour-orm.xml#deepBerths");
    QueryText deep = found.queries().get(1);
    assertThat(deep.location()).hasToString("target/classes/META-INF/harbour-orm.xml:5");
    assertThat(deep.sql()).contains("from quay b").contains("b.depth > :depth");
  }

  private static final String HBM =
      """
      <?xml version="1.0"?>
      <!DOCTYPE hibernate-mapping PUBLIC "-//Hibernate/Hibernate Mapping DTD 3.0//EN"
          "file:///nowhere/hibernate-mapping-3.0.dtd">
      <hibernate-mapping package="org.example.harbour">
        <class name="Berth" table="berth" where="depth > 0">
          <id name="key" column="berth_id" type="long"><generator class="native"/></id>
          <property name="made" column="made_on" type="timestamp"/>
          <property name="name" formula="upper(label)"/>
          <many-to-one name="pier" class="Pier" column="pier_id" not-null="true"/>
          <component name="size" class="Size">
            <property name="length" column="len"/>
            <many-to-one name="measuredAt" class="Pier" column="at_pier"/>
          </component>
          <set name="visits" inverse="true"><key column="berth"/><one-to-many class="Visit"/></set>
          <list name="flags" table="berth_flag">
            <key column="berth"/><list-index column="place"/><element column="flag" type="string"/>
          </list>
          <map name="notes" table="berth_note">
            <key column="berth"/><map-key column="lang" type="string"/>
            <element column="note" type="string"/>
          </map>
          <query name="ofPier"><![CDATA[from Berth b
              where b.pier.id = :pier and size(b.visits) > 2]]></query>
        </class>
        <class name="Pier" table="pier" discriminator-value="P">
          <id name="id"/>
          <discriminator column="kind"/>
          <property name="name"/>
          <set name="berths" table="pier_berth">
            <key column="pier"/><many-to-many class="Berth" column="berth"/>
          </set>
          <subclass name="DeepPier" discriminator-value="D">
            <join table="deep"><key column="pier"/><property name="metres"/></join>
          </subclass>
        </class>
        <class name="Visit" table="visit">
          <composite-id>
            <key-property name="id" column="no"/>
            <key-many-to-one name="berth" class="Berth" column="berth"/>
          </composite-id>
          <property name="kind" column="kind">
            <type name="org.hibernate.type.EnumType">
              <param name="enumClass">org.example.harbour.Kind</param>
              <param name="useNamed">true</param>
            </type>
          </property>
        </class>
        <query name="deep">select d.metres from DeepPier d where exists (from d.berths b where b.size.length > 9)</query>
        <sql-query name="raw">select {b.*} from berth {b}</sql-query>
      </hibernate-mapping>
      """;

  @Test
  void properties_in_braces_are_columns() throws IOException {
    Read read =
        read(
            "org/example/harbour/Sql.hbm.xml",
            """
            <hibernate-mapping package="org.example.harbour">
              <class name="Pier" table="piers">
                <id name="id"/>
                <property name="name" column="pier_name"/>
              </class>
              <sql-query name="raw">
                <return alias="p" class="Pier"/>
                select {p.*} from piers {p} where {p.name} = :name and {q.name} = 1
              </sql-query>
            </hibernate-mapping>
            """);
    assertThat(
            MappingFileQueries.read(read.files().queries(), read.mapping(), "postgresql").queries())
        .singleElement()
        .satisfies(
            it ->
                assertThat(it.sql().strip())
                    .isEqualTo("select p.* from piers p where p.pier_name = :name and q.name = 1"));
  }

  @Test
  void hbm_xml_maps_what_it_names_and_nothing_else() throws IOException {
    Read read = read("org/example/harbour/Harbour.hbm.xml", HBM);
    assertThat(read.files().problems()).isEmpty();
    assertThat(read.entity("Berth").attribute("depth")).isEmpty();
    assertThat(read.column("Berth", "key")).isEqualTo("berth.berth_id");
    assertThat(read.column("Berth", "made")).isEqualTo("berth.made_on");
    assertThat(read.column("Berth", "size.length")).isEqualTo("berth.len");
    assertThat(read.column("Berth", "size.measuredAt")).isEqualTo("berth.at_pier");
    assertThat(read.entity("Berth").attribute("name").orElseThrow())
        .isInstanceOf(Attribute.Formula.class);
    assertThat(read.entity("Berth").restrictions()).hasSize(1);
    assertThat(read.entity("DeepPier").inheritance()).isEqualTo(Inheritance.SINGLE_TABLE);
    assertThat(read.entity("DeepPier").discriminator().orElseThrow().value()).contains("D");
    assertThat(read.column("DeepPier", "metres")).isEqualTo("deep.metres");
    assertThat(Entity.columnsOf(read.entity("Visit").id())).hasSize(2);
    assertThat(read.entity("Visit").location())
        .hasToString("target/classes/org/example/harbour/Harbour.hbm.xml:36");
  }

  @Test
  void queries_of_hbm_xml_are_translated() throws IOException {
    Read read = read("org/example/harbour/Harbour.hbm.xml", HBM);
    FoundQueries found =
        MappingFileQueries.read(read.files().queries(), read.mapping(), "postgresql");
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.queries())
        .extracting(it -> it.id().substring(it.id().indexOf('#')) + " " + it.sql())
        .satisfiesExactly(
            it -> assertThat(it).startsWith("#deep select d_deep.metres").contains("pier_berth"),
            it ->
                assertThat(it)
                    .startsWith("#org.example.harbour.Berth.ofPier")
                    .contains("b.pier_id = :pier")
                    .contains("b.depth > 0"),
            it -> assertThat(it).isEqualTo("#raw select b.* from berth b"));
  }

  @Test
  void a_file_that_is_cut_off_and_a_class_that_is_missing_are_one_entry_each() throws IOException {
    Files.writeString(service.classes().resolve("torn-orm.xml"), "<entity-mappings>\n<entity");
    Files.writeString(service.classes().resolve("other.xml"), "<beans>\n<bean");
    Read read =
        read(
            "META-INF/orm.xml",
            """
            <entity-mappings>
              <entity class="org.example.harbour.Ferry"/>
              <entity class="org.example.harbour.Pier"><attributes><id name="id"/></attributes></entity>
            </entity-mappings>
            """);
    assertThat(read.mapping().entity("Pier")).isPresent();
    assertThat(read.files().problems())
        .singleElement()
        .satisfies(it -> assertThat(it.location().file()).endsWith("torn-orm.xml"));
    assertThat(read.classes().unreadable())
        .singleElement()
        .satisfies(
            it ->
                assertThat(it.location() + " " + it.reason())
                    .isEqualTo(
                        "target/classes/META-INF/orm.xml:2 class org.example.harbour.Ferry, which"
                            + " is mapped here, is not there"));
  }
}
