package dev.colonnade.mapping;

import java.util.List;
import java.util.Optional;

/**
 * How an implementation keeps the rows of an entity, beyond where they lie.
 *
 * @param immutable true where rows are never changed
 * @param batched true where several rows are read by one statement
 * @param naturalId names of the attributes that identify a row to people
 * @param tenant the column that tells whose a row is; each session sees those of one
 * @param partitionKeys columns that are given besides the identifier when a row is changed
 * @param compared what must be as it was read when a row is changed
 * @param filters conditions that can be switched on
 * @param softDelete how rows are marked as deleted
 * @param keyTable the table that gives out identifiers
 * @param ownUpdate the SQL that changes a row, where the mapping gives it
 * @param ownDelete the SQL that deletes a row, where the mapping gives it
 */
public record Upkeep(
    boolean immutable,
    boolean batched,
    List<String> naturalId,
    Optional<MappedColumn> tenant,
    List<MappedColumn> partitionKeys,
    Compared compared,
    List<Filter> filters,
    Optional<SoftDelete> softDelete,
    Optional<KeyTable> keyTable,
    Optional<String> ownUpdate,
    Optional<String> ownDelete) {
  /** Rows that are kept in no particular way. */
  public static final Upkeep PLAIN =
      new Upkeep(
          false,
          false,
          List.of(),
          Optional.empty(),
          List.of(),
          Compared.VERSION,
          List.of(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty());

  /** What must be as it was read when a row is changed (Hibernate's {@code @OptimisticLocking}). */
  public enum Compared {
    /** The count of its changes, where it has one. */
    VERSION,
    /** The columns that change; all columns when it is deleted. */
    CHANGED,
    /** All its columns. */
    ALL
  }

  /** Copies the lists. */
  public Upkeep {
    naturalId = List.copyOf(naturalId);
    partitionKeys = List.copyOf(partitionKeys);
    filters = List.copyOf(filters);
  }
}
