package dev.colonnade.report;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.query.UnanalysedQuery;
import java.util.List;

/**
 * How much of the input the result stands on.
 *
 * @param changes number of changes in all change sets that were read
 * @param changesApplied how many of them went into the schema; the rest was not understood, or does
 *     not run on this database or with these contexts and labels
 * @param changesNotUnderstood those that did not, and what else in the changelogs was not
 *     understood; sorted
 * @param queries number of queries found
 * @param queriesAnalysed how many of them were analysed
 * @param queriesNotAnalysed those that were not; sorted
 * @param queriesWithoutText how many more have no text before run time, so that nothing can be said
 *     of them: built from objects or passed in whole; where they are, entries of {@code
 *     otherNotUnderstood} say
 * @param otherNotUnderstood what else could not be read: class files, parts of the statistics file;
 *     sorted
 */
public record Coverage(
    int changes,
    int changesApplied,
    List<NotUnderstood> changesNotUnderstood,
    int queries,
    int queriesAnalysed,
    List<UnanalysedQuery> queriesNotAnalysed,
    int queriesWithoutText,
    List<NotUnderstood> otherNotUnderstood) {
  /** Sorts the lists, so that the order of reading does not show. */
  public Coverage {
    changesNotUnderstood = changesNotUnderstood.stream().sorted().distinct().toList();
    queriesNotAnalysed = queriesNotAnalysed.stream().sorted().distinct().toList();
    otherNotUnderstood = otherNotUnderstood.stream().sorted().distinct().toList();
  }

  /** True when everything was understood. */
  public boolean isComplete() {
    return changesNotUnderstood.isEmpty()
        && queriesNotAnalysed.isEmpty()
        && otherNotUnderstood.isEmpty();
  }
}
