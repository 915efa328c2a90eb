package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import java.util.List;
import java.util.Optional;

/** A change of an index by its own statement. */
public sealed interface IndexChange extends SchemaChange {
  /**
   * Somebody creates an index.
   *
   * @param name its name; empty where the database chooses
   * @param table the indexed table or materialized view
   * @param unique true when no two entries may have equal keys
   * @param keyColumns the key, leading column first
   * @param includedColumns columns stored without being key
   * @param predicate which rows have an entry
   * @param predicateText the same as written
   * @param method how it is built
   * @param clustered true when the rows are to be stored in this order
   * @param ifNotExists true when an existing index of that name is left alone
   * @param location where it is written
   */
  record CreateIndex(
      Optional<Identifier> name,
      Identifier table,
      boolean unique,
      List<KeyColumn> keyColumns,
      List<Identifier> includedColumns,
      Optional<Predicate> predicate,
      Optional<String> predicateText,
      IndexMethod method,
      boolean clustered,
      boolean ifNotExists,
      SourceLocation location)
      implements IndexChange {
    /** Copies the lists. */
    public CreateIndex {
      keyColumns = List.copyOf(keyColumns);
      includedColumns = List.copyOf(includedColumns);
    }

    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.createIndex(this);
    }
  }

  /**
   * An index goes.
   *
   * @param table its table, where written
   * @param name its name
   * @param ifExists true when a missing index is no error
   * @param location where it is written
   */
  record DropIndex(
      Optional<Identifier> table, Identifier name, boolean ifExists, SourceLocation location)
      implements IndexChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.dropIndex(this);
    }
  }

  /**
   * An index changes its name.
   *
   * @param table its table, where written
   * @param from name before
   * @param to name after
   * @param ifExists true when a missing index is no error
   * @param location where it is written
   */
  record RenameIndex(
      Optional<Identifier> table,
      Identifier from,
      Identifier to,
      boolean ifExists,
      SourceLocation location)
      implements IndexChange {
    @Override
    public void accept(SchemaChangeVisitor visitor) {
      visitor.renameIndex(this);
    }
  }
}
