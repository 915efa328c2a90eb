package dev.colonnade.schema;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * An index of a table, as the database will have it.
 *
 * @param name its name; for those that the database names itself, the name it would give
 * @param table the indexed table
 * @param unique true when no two entries may have equal keys
 * @param keyColumns the key, leading column first; never empty
 * @param includedColumns columns stored in the entries without being part of the key
 * @param predicate for a partial index, which rows have an entry; its columns belong to {@code
 *     SELF}
 * @param predicateText the predicate as written
 * @param method how it is built
 * @param clustered true when the rows themselves are stored in this order
 * @param origin what brought it into being
 * @param location where it is created
 */
public record Index(
    Identifier name,
    Identifier table,
    boolean unique,
    List<KeyColumn> keyColumns,
    List<Identifier> includedColumns,
    Optional<Predicate> predicate,
    Optional<String> predicateText,
    IndexMethod method,
    boolean clustered,
    IndexOrigin origin,
    SourceLocation location) {

  /** Copies the lists. */
  public Index {
    keyColumns = List.copyOf(keyColumns);
    includedColumns = List.copyOf(includedColumns);
    if (keyColumns.isEmpty()) {
      throw new IllegalArgumentException("index " + name + " has no key columns");
    }
  }

  /** A plain B-tree index. */
  public static Index of(
      String name, String table, boolean unique, List<KeyColumn> key, SourceLocation location) {
    return new Index(
        Identifier.of(name),
        Identifier.of(table),
        unique,
        key,
        List.of(),
        Optional.empty(),
        Optional.empty(),
        IndexMethod.BTREE,
        false,
        IndexOrigin.CREATE_INDEX,
        location);
  }

  /** The same index under another origin. */
  public Index withOrigin(IndexOrigin newOrigin) {
    return new Index(
        name,
        table,
        unique,
        keyColumns,
        includedColumns,
        predicate,
        predicateText,
        method,
        clustered,
        newOrigin,
        location);
  }

  /** The same index built in another way. */
  public Index withMethod(IndexMethod newMethod) {
    return new Index(
        name,
        table,
        unique,
        keyColumns,
        includedColumns,
        predicate,
        predicateText,
        newMethod,
        clustered,
        origin,
        location);
  }

  /** The same index, unique or not. */
  public Index withUnique(boolean newUnique) {
    return new Index(
        name,
        table,
        newUnique,
        keyColumns,
        includedColumns,
        predicate,
        predicateText,
        method,
        clustered,
        origin,
        location);
  }

  /** The same index with these included columns. */
  public Index withIncluded(List<Identifier> included) {
    return new Index(
        name,
        table,
        unique,
        keyColumns,
        included,
        predicate,
        predicateText,
        method,
        clustered,
        origin,
        location);
  }

  /** Renders as {@code name(a, b desc) include (c)}. */
  public String render() {
    String text =
        name
            + keyColumns.stream()
                .map(KeyColumn::render)
                .collect(Collectors.joining(", ", "(", ")"));
    if (!includedColumns.isEmpty()) {
      text +=
          includedColumns.stream()
              .map(Identifier::text)
              .collect(Collectors.joining(", ", " include (", ")"));
    }
    return predicateText.isPresent() ? text + " where " + predicateText.get() : text;
  }
}
