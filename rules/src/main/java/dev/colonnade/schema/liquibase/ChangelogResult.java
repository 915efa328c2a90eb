package dev.colonnade.schema.liquibase;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import java.util.List;
import java.util.Map;

/**
 * What a changelog leads to.
 *
 * @param schema the schema after the last change set
 * @param total number of changes in all change sets that were read
 * @param applied how many of them run here (their contexts, labels, databases and preconditions
 *     match) and were understood
 * @param notUnderstood what was not understood, sorted by place
 * @param rowsLoaded rows that the changelog itself puts into tables
 */
public record ChangelogResult(
    Schema schema,
    int total,
    int applied,
    List<NotUnderstood> notUnderstood,
    Map<Identifier, Long> rowsLoaded) {
  /** Copies the collections and sorts the entries. */
  public ChangelogResult {
    notUnderstood = notUnderstood.stream().distinct().sorted().toList();
    rowsLoaded = Map.copyOf(rowsLoaded);
  }
}
