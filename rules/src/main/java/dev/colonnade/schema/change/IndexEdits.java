package dev.colonnade.schema.change;

import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Indexes after a change of the names around them. */
final class IndexEdits {
  private IndexEdits() {}

  static Index renamed(Index index, Identifier name) {
    return rebuilt(index, name, index.table(), index.keyColumns(), index.origin());
  }

  static Index onTable(Index index, Identifier table) {
    return rebuilt(index, index.name(), table, index.keyColumns(), index.origin());
  }

  static Index withKey(Index index, List<KeyColumn> key) {
    return rebuilt(index, index.name(), index.table(), key, index.origin());
  }

  private static Index rebuilt(
      Index index, Identifier name, Identifier table, List<KeyColumn> key, IndexOrigin origin) {
    return new Index(
        name,
        table,
        index.unique(),
        key,
        index.includedColumns(),
        index.predicate(),
        index.predicateText(),
        index.method(),
        index.clustered(),
        origin,
        index.location());
  }

  /** The index after one column of its table got another name. */
  static Index withColumnRenamed(Index index, Identifier from, Identifier to) {
    if (!columns(index).contains(from)) {
      return index;
    }
    return new Index(
        index.name(),
        index.table(),
        index.unique(),
        index.keyColumns().stream().map(key -> keyRenamed(key, from, to)).toList(),
        index.includedColumns().stream().map(column -> column.equals(from) ? to : column).toList(),
        index
            .predicate()
            .map(predicate -> Conditions.map(predicate, column -> refRenamed(column, from, to))),
        index.predicateText().map(text -> textRenamed(text, from, to)),
        index.method(),
        index.clustered(),
        index.origin(),
        index.location());
  }

  private static KeyColumn keyRenamed(KeyColumn key, Identifier from, Identifier to) {
    return new KeyColumn(
        key.value().map(column -> refRenamed(column, from, to)),
        key.descending(),
        key.nulls(),
        key.prefixLength(),
        key.operatorClass(),
        key.collation());
  }

  private static ColumnRef refRenamed(ColumnRef column, Identifier from, Identifier to) {
    return column.column().equals(from) ? new ColumnRef(column.use(), to) : column;
  }

  private static String textRenamed(String text, Identifier from, Identifier to) {
    Pattern word =
        Pattern.compile(
            "(?<![\\w$])" + Pattern.quote(from.text()) + "(?![\\w$])", Pattern.CASE_INSENSITIVE);
    return word.matcher(text).replaceAll(Matcher.quoteReplacement(to.text()));
  }

  /** Every column that the index stores, computes with or tests. */
  static Set<Identifier> columns(Index index) {
    Set<Identifier> columns = new LinkedHashSet<>();
    for (KeyColumn key : index.keyColumns()) {
      key.value().columns().forEach(column -> columns.add(column.column()));
    }
    columns.addAll(index.includedColumns());
    index
        .predicate()
        .ifPresent(
            predicate -> predicate.columns().forEach(column -> columns.add(column.column())));
    return columns;
  }

  /**
   * True when the key starts with exactly these whole columns in this order, however it is built:
   * MariaDB 11.4.5 lets an index made for a foreign key go for a full-text one, too (observed).
   */
  static boolean leadsWith(Index index, List<Identifier> columns) {
    if (index.predicate().isPresent() || index.keyColumns().size() < columns.size()) {
      return false;
    }
    for (int i = 0; i < columns.size(); i++) {
      if (!isWhole(index.keyColumns().get(i), columns.get(i))) {
        return false;
      }
    }
    return true;
  }

  /** True when the key starts with exactly these columns in some order. */
  static boolean leadsWithAnyOrder(Index index, List<Identifier> columns) {
    if (!servesKeys(index) || index.keyColumns().size() < columns.size()) {
      return false;
    }
    return index.keyColumns().subList(0, columns.size()).stream()
        .allMatch(key -> key.column().filter(columns::contains).isPresent());
  }

  /** A key needs every row, each under its whole value. */
  private static boolean servesKeys(Index index) {
    return index.predicate().isEmpty()
        && switch (index.method()) {
          case BTREE, HASH, REVERSE -> true;
          case BITMAP, GIN, GIST, SPGIST, BRIN, FULLTEXT, SPATIAL, SPECIAL -> false;
        };
  }

  private static boolean isWhole(KeyColumn key, Identifier column) {
    return key.prefixLength().isEmpty() && key.column().filter(column::equals).isPresent();
  }
}
