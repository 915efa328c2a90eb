package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.liquibase.ChangelogInput.RootChangelog;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Changelog files in a directory of a test, and what reading them gives. */
final class ChangelogFixture {
  private final Path directory;
  private final List<RootChangelog> roots = new ArrayList<>();
  private final Map<String, String> parameters = new HashMap<>();
  private final Map<String, Boolean> preconditionResults = new HashMap<>();
  private Dialect dialect = Dialects.postgresql();

  ChangelogFixture(Path directory) {
    this.directory = directory;
  }

  ChangelogFixture file(String path, String text) {
    try {
      Path file = directory.resolve(path);
      Files.createDirectories(file.getParent());
      Files.writeString(file, text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return this;
  }

  /** A root changelog in XML with this body. */
  ChangelogFixture xml(String body) {
    return file("changelog.xml", wrap(body)).root("changelog.xml");
  }

  static String wrap(String body) {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        + "<databaseChangeLog xmlns=\"http://www.liquibase.org/xml/ns/dbchangelog\">\n"
        + body
        + "\n</databaseChangeLog>\n";
  }

  ChangelogFixture root(String path) {
    roots.add(RootChangelog.of(path));
    return this;
  }

  ChangelogFixture root(String path, String contexts, String labels) {
    roots.add(new RootChangelog(path, Optional.ofNullable(contexts), Optional.ofNullable(labels)));
    return this;
  }

  ChangelogFixture parameter(String name, String value) {
    parameters.put(name, value);
    return this;
  }

  /** Decides a precondition by hand. */
  ChangelogFixture holds(String changeSet, boolean value) {
    preconditionResults.put(changeSet, value);
    return this;
  }

  ChangelogFixture database(Dialect value) {
    dialect = value;
    return this;
  }

  ChangelogResult read() {
    return ChangelogReader.read(
        new ChangelogInput(
            dialect, directory, List.of(directory), roots, parameters, preconditionResults));
  }

  /** The lines of {@link #describe(Table)} for one table. */
  List<String> table(String name) {
    return describe(read().schema().table(Identifier.of(name)).orElseThrow());
  }

  /** Columns, primary key, foreign keys and indexes, one a line. */
  static List<String> describe(Table table) {
    List<String> lines = new ArrayList<>();
    table
        .columns()
        .forEach(
            column ->
                lines.add(
                    column.name()
                        + " "
                        + column.type().family()
                        + (table.isNullable(column.name()) ? "" : " not null")));
    if (!table.primaryKey().isEmpty()) {
      lines.add("key " + table.primaryKey());
    }
    for (ForeignKey key : table.foreignKeys()) {
      lines.add("references " + key.columns() + " " + key.referencedTable());
    }
    for (Index index : table.indexes()) {
      lines.add(
          (index.unique() ? "unique " : "index ")
              + index.render()
              + " "
              + index.origin().word()
              + " "
              + index.location().line());
    }
    return lines;
  }

  static List<String> reasons(ChangelogResult result) {
    return result.notUnderstood().stream().map(ChangelogFixture::line).toList();
  }

  private static String line(NotUnderstood entry) {
    return entry.location() + " " + entry.reason();
  }

  /** A change that creates a table with one column, {@code id}. */
  static String createTable(String name) {
    return "<createTable tableName='" + name + "'><column name='id' type='int'/></createTable>";
  }

  static String changeSet(String id, String attributes, String body) {
    return "<changeSet id='"
        + id
        + "' author='harbour' "
        + attributes
        + ">"
        + body
        + "</changeSet>";
  }

  /** Names of the tables as written. */
  static List<String> names(Schema schema) {
    return schema.tables().stream().map(table -> table.name().text()).toList();
  }
}
