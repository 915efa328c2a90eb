package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** Our schema in the lines in which {@link RealSchema} and {@link RealIndexes} write real ones. */
final class DerivedSchema {
  private DerivedSchema() {}

  static SortedSet<String> tables(Schema schema) {
    SortedSet<String> lines = new TreeSet<>();
    for (Table table : schema.tables()) {
      for (Column column : table.columns()) {
        lines.add(
            (table.name() + "." + column.name() + (column.nullable() ? "" : " not null"))
                .toLowerCase(Locale.ROOT));
      }
      if (!table.primaryKey().isEmpty()) {
        lines.add((table.name() + " key " + table.primaryKey()).toLowerCase(Locale.ROOT));
      }
      for (ForeignKey key : table.foreignKeys()) {
        lines.add(reference(schema, table, key).toLowerCase(Locale.ROOT));
      }
    }
    return lines;
  }

  /** Like {@link #tables} without nullability, which SQLite's catalog does not tell of keys. */
  static SortedSet<String> keys(Schema schema) {
    return RealSchema.withoutNullability(tables(schema));
  }

  private static String reference(Schema schema, Table table, ForeignKey key) {
    List<Identifier> parents =
        key.referencedColumns().isEmpty()
            ? schema.table(key.referencedTable()).orElseThrow().primaryKey()
            : key.referencedColumns();
    List<String> pairs = new ArrayList<>();
    for (int i = 0; i < key.columns().size(); i++) {
      pairs.add(key.columns().get(i) + "=" + parents.get(i));
    }
    return table.name() + " references " + key.referencedTable() + " " + RealSchema.sorted(pairs);
  }

  /** Like {@link #indexes(Schema)}, with repeated lines, as the given database would list them. */
  static List<String> indexes(Schema schema, Dialect dialect) {
    boolean descending = dialect.features().descending().value();
    List<String> lines = new ArrayList<>();
    for (Table table : schema.tables()) {
      for (Index index : table.indexes()) {
        if (!index.name().text().equals("rowid")) {
          String line = line(index);
          lines.add(descending ? line : line.replace(" desc", ""));
        }
      }
    }
    return lines;
  }

  static SortedSet<String> indexes(Schema schema) {
    SortedSet<String> lines = new TreeSet<>();
    for (Table table : schema.tables()) {
      for (Index index : table.indexes()) {
        if (!index.name().text().equals("rowid")) {
          lines.add(line(index));
        }
      }
    }
    return lines;
  }

  private static String line(Index index) {
    return RealIndexes.line(
        index.table().text(),
        index.name().text(),
        index.unique(),
        index.keyColumns().stream().map(DerivedSchema::key).collect(Collectors.joining(", ")),
        index.includedColumns().stream().map(Identifier::text).collect(Collectors.joining(", ")),
        index.predicateText().orElse(null),
        index.method().name());
  }

  private static String key(KeyColumn part) {
    return part.prefixLength().isPresent()
        ? part.value().render() + ":" + part.prefixLength().getAsInt()
        : part.render();
  }
}
