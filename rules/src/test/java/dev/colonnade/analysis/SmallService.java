package dev.colonnade.analysis;

import dev.colonnade.analysis.AnalysisInput.Changelog;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** Writes a service of a few files into a directory: a harbour that lets berths. */
final class SmallService {
  static final String CHANGELOG = "src/main/resources/db/harbour.xml";
  static final String QUERIES = "queries/berths.sql";
  static final String STATISTICS = "colonnade/statistics.yaml";

  private final Path directory;

  private SmallService(Path directory) {
    this.directory = directory;
  }

  /** A service without files. */
  static SmallService empty(Path directory) {
    return new SmallService(directory);
  }

  /** The service with its usual files. */
  static SmallService in(Path directory) {
    return new SmallService(directory)
        .file(
            CHANGELOG,
            changelog(
                """
                  <changeSet id="1" author="quay">
                    <createTable tableName="berth">
                      <column name="id" type="bigint">
                        <constraints primaryKey="true" primaryKeyName="berth_pk"/>
                      </column>
                      <column name="pier_id" type="bigint"><constraints nullable="false"/></column>
                      <column name="length" type="int"><constraints nullable="false"/></column>
                      <column name="TITLE" type="varchar(60)"/>
                    </createTable>
                  </changeSet>
                  <changeSet id="2" author="quay">
                    <createIndex tableName="berth" indexName="berth_pier_ix">
                      <column name="pier_id"/>
                    </createIndex>
                  </changeSet>
                  <changeSet id="3" author="quay">
                    <createIndex tableName="berth" indexName="berth_pier_length_ix">
                      <column name="pier_id"/>
                      <column name="length"/>
                    </createIndex>
                  </changeSet>
                """))
        .file(
            QUERIES,
            """
            select id, length from berth where pier_id = ? and length >= ?;
            -- nothing serves this one
            select id from berth where title = ? order by length;
            select id frm berth;
            select id, length from berth where pier_id = ? and length >= ?;
            """)
        .file(
            STATISTICS,
            """
            formatVersion: 1
            tables:
              berth:
                rows: 120000
                columns:
                  pier_id: {distinct: 400}
                  title: {distinct: 110000}
              wharf:
                rows: 3
            """);
  }

  static String changelog(String changeSets) {
    return """
    <?xml version="1.0" encoding="UTF-8"?>
    <databaseChangeLog
        xmlns="http://www.liquibase.org/xml/ns/dbchangelog"
        xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
        xsi:schemaLocation="http://www.liquibase.org/xml/ns/dbchangelog http://www.liquibase.org/xml/ns/dbchangelog/dbchangelog-4.33.xsd">
    """
        + changeSets
        + "</databaseChangeLog>\n";
  }

  /** The same service with one file put in place of that name. */
  SmallService file(String name, String content) {
    try {
      Path file = directory.resolve(name);
      Files.createDirectories(file.getParent());
      Files.writeString(file, content);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return this;
  }

  /** What the goals would hand to the analysis. */
  AnalysisInput.Builder input() {
    return AnalysisInput.builder(directory, "postgresql")
        .changelogs(List.of(Changelog.of("db/harbour.xml")))
        .changelogSearchRoots(List.of(Path.of("src/main/resources"), Path.of("")))
        .queryFiles(List.of(Path.of(QUERIES)))
        .classesDirectory(Path.of("target/classes"))
        .statisticsFile(Optional.of(Path.of(STATISTICS)));
  }
}
