package dev.colonnade.counter;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * A table with its rows.
 *
 * @param rows numbers, texts and days ({@link java.time.LocalDate}), one array a row, NULL as null
 * @param keys the indexes, each the list of its columns
 */
record DataTable(
    String name,
    List<DataColumn> columns,
    List<String> primaryKey,
    List<List<String>> keys,
    List<Object[]> rows) {
  private static final SourceLocation PLACE = SourceLocation.of("data.sql");

  /**
   * A column.
   *
   * @param type as written in DDL, the same on all databases asked here
   */
  record DataColumn(String name, String type, TypeFamily family, boolean nullable) {}

  String indexName(List<String> key) {
    return "x_" + name + "_" + (keys.indexOf(key) + 1);
  }

  int position(String column) {
    return IntStream.range(0, columns.size())
        .filter(i -> columns.get(i).name().equals(column))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException(name + "." + column));
  }

  DataColumn column(String column) {
    return columns.get(position(column));
  }

  List<String> ddl() {
    List<String> parts = new ArrayList<>();
    for (DataColumn column : columns) {
      parts.add(column.name() + " " + column.type() + (column.nullable() ? "" : " not null"));
    }
    if (!primaryKey.isEmpty()) {
      parts.add("primary key (" + String.join(", ", primaryKey) + ")");
    }
    return List.of("create table " + name + " (" + String.join(", ", parts) + ")");
  }

  List<String> indexDdl() {
    return keys.stream()
        .map(
            key ->
                "create index "
                    + indexName(key)
                    + " on "
                    + name
                    + " ("
                    + String.join(", ", key)
                    + ")")
        .toList();
  }

  /** The same table as our analysis sees it. */
  Table model() {
    List<Index> indexes = new ArrayList<>();
    for (List<String> key : keys) {
      indexes.add(index(indexName(key), key, false));
    }
    if (!primaryKey.isEmpty()) {
      indexes.add(index("pk_" + name, primaryKey, true).withOrigin(IndexOrigin.PRIMARY_KEY));
    }
    return new Table(
        Identifier.of(name),
        Optional.empty(),
        columns.stream().map(DataTable::model).toList(),
        primaryKey.stream().map(Identifier::of).toList(),
        List.of(),
        indexes,
        PLACE);
  }

  /**
   * Texts are compared byte by byte: every database asked here is started with such a collation.
   */
  private static Column model(DataColumn column) {
    boolean text = column.family() == TypeFamily.TEXT;
    return new Column(
        Identifier.of(column.name()),
        ColumnType.of(column.type(), column.family()),
        column.nullable(),
        text ? Optional.of("C") : Optional.empty());
  }

  private Index index(String index, List<String> key, boolean unique) {
    return Index.of(index, name, unique, key.stream().map(KeyColumn::ascending).toList(), PLACE);
  }
}
