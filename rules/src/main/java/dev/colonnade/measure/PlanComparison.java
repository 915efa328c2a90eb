package dev.colonnade.measure;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Holds a plan against the prediction for the same rows: which index is taken for each table, and
 * what that index does there, with the values that the plan says it gets from other tables. A table
 * that the query names several times under one alias is compared by its index alone.
 */
final class PlanComparison {
  /** Tables of as many pages are read whole about as fast as through an index. */
  private static final double SMALL = 8;

  private final AccessPathAnalyzer analyzer;
  private final QueryAccess predicted;

  PlanComparison(AccessPathAnalyzer analyzer, QueryAccess predicted) {
    this.analyzer = analyzer;
    this.predicted = predicted;
  }

  /** The differences, in the order of the plan; tables of other names than ours are passed over. */
  List<Difference> differences(PlannedReads plan) {
    List<Difference> differences = new ArrayList<>();
    List<TableAccess> left = new ArrayList<>(predicted.tables());
    for (PlannedRead read : plan.reads()) {
      Optional<TableAccess> same =
          left.stream().filter(access -> isNamed(access, read.alias())).findFirst();
      if (same.isEmpty()) {
        continue;
      }
      TableAccess access = same.get();
      left.remove(access);
      choice(access, read).ifPresent(differences::add);
      boolean one =
          predicted.tables().stream().filter(it -> isNamed(it, read.alias())).count() == 1;
      if (one) {
        differences.addAll(paths(access, read, plan));
      }
    }
    return differences;
  }

  private Optional<Difference> choice(TableAccess access, PlannedRead read) {
    if (isSameIndex(access, read)) {
      return Optional.empty();
    }
    String name = access.table().name().text();
    double pages = analyzer.profile(access.table()).tablePages().value();
    return Optional.of(
        new Difference(
            Difference.Kind.CHOICE,
            pages <= SMALL,
            String.format(
                Locale.ROOT,
                "table %s (%.0f pages): predicted %s, the planner takes %s",
                name,
                pages,
                access.chosen().index().map(it -> it.name().text()).orElse("no index"),
                read.index().orElse("no index"))));
  }

  private List<Difference> paths(TableAccess access, PlannedRead read, PlannedReads plan) {
    Optional<Index> index =
        read.index()
            .flatMap(
                name ->
                    access.table().indexes().stream()
                        .filter(it -> isNamed(access.table(), it, unqualified(name)))
                        .findFirst());
    Optional<Set<Integer>> before = uses(access, read.after());
    if (index.isEmpty() || before.isEmpty()) {
      return List.of();
    }
    Optional<Candidate> ours = candidate(access, index.get(), before.get());
    if (ours.isEmpty()) {
      return List.of();
    }
    List<String> differing = new ArrayList<>();
    key(index.get())
        .flatMap(read::matching)
        .ifPresent(
            theirs -> {
              List<String> matching =
                  ours.get().matching().stream()
                      .map(it -> it.render().toLowerCase(Locale.ROOT))
                      .toList();
              if (!matching.equals(theirs)) {
                differing.add("the planner seeks on " + theirs + ", predicted " + matching);
              }
            });
    read.covering()
        .filter(covering -> covering != ours.get().covering())
        .ifPresent(
            covering ->
                differing.add(
                    covering
                        ? "the index alone answers, predicted: the rows are fetched"
                        : "the rows are fetched, predicted: the index alone answers"));
    Query query = predicted.query();
    boolean alone = query.blocks().size() == 1 && predicted.tables().size() == 1;
    if (alone && ours.get().groupingServed().isEmpty() && read.bounds().isPresent()) {
      ours.get()
          .orderServed()
          .filter(ordered -> ordered == plan.sorts())
          .ifPresent(
              ordered ->
                  differing.add(
                      ordered
                          ? "the rows are sorted, predicted: the index brings the order"
                          : "no sort, predicted: one"));
    }
    return differing.stream()
        .map(
            text ->
                new Difference(
                    Difference.Kind.PATH,
                    false,
                    "table "
                        + access.table().name().text()
                        + " through "
                        + index.get().name().text()
                        + ": "
                        + text))
        .toList();
  }

  private Optional<Candidate> candidate(TableAccess access, Index index, Set<Integer> before) {
    Set<Integer> around = around(access.block());
    Set<Integer> joined = new LinkedHashSet<>(before);
    joined.removeAll(around);
    access.block().tables().forEach(use -> joined.add(use.use()));
    return analyzer
        .accessAfter(predicted.query(), access.use().use(), before, joined)
        .flatMap(
            placed ->
                placed.candidates().stream()
                    .filter(it -> it.index().equals(Optional.of(index)))
                    .findFirst());
  }

  private Set<Integer> around(QueryBlock block) {
    Set<Integer> uses = new LinkedHashSet<>();
    for (Optional<Integer> up = block.parent(); up.isPresent(); ) {
      QueryBlock around = predicted.query().blocks().get(up.get() - 1);
      around.tables().forEach(use -> uses.add(use.use()));
      up = around.parent();
    }
    return uses;
  }

  /**
   * The uses that the names stand for; empty where one of them is not known or not the only one.
   */
  private Optional<Set<Integer>> uses(TableAccess access, Set<String> names) {
    Set<Integer> uses = new LinkedHashSet<>();
    for (String name : names) {
      List<TableUse> named =
          predicted.query().blocks().stream()
              .flatMap(block -> block.tables().stream())
              .filter(use -> isNamed(use, name))
              .toList();
      if (named.size() != 1) {
        return Optional.empty();
      }
      uses.add(named.get(0).use());
    }
    uses.remove(access.use().use());
    return Optional.of(uses);
  }

  /** The columns of the key in lower case; empty where one is an expression. */
  private static Optional<List<String>> key(Index index) {
    List<String> columns = new ArrayList<>();
    for (KeyColumn key : index.keyColumns()) {
      if (key.column().isEmpty()) {
        return Optional.empty();
      }
      columns.add(key.column().get().text().toLowerCase(Locale.ROOT));
    }
    return Optional.of(columns);
  }

  private static boolean isNamed(TableAccess access, String name) {
    return access.table().name().equals(Identifier.of(name)) || isNamed(access.use(), name);
  }

  private static boolean isNamed(TableUse use, String name) {
    return Identifier.of(use.alias()).equals(Identifier.of(name));
  }

  private static boolean isSameIndex(TableAccess access, PlannedRead read) {
    Optional<Index> chosen = access.chosen().index();
    if (chosen.isEmpty() && access.branches().isEmpty()) {
      return read.index().isEmpty();
    }
    if (read.index().isEmpty()) {
      return false;
    }
    String theirs = unqualified(read.index().get());
    if (chosen.isEmpty()) {
      return access.branches().stream()
          .flatMap(branch -> branch.index().stream())
          .anyMatch(index -> isNamed(access.table(), index, theirs));
    }
    return isNamed(access.table(), chosen.get(), theirs);
  }

  private static String unqualified(String name) {
    return name.substring(name.lastIndexOf('.') + 1);
  }

  /** Databases name the index of a primary key by themselves. */
  private static boolean isNamed(Table table, Index index, String name) {
    if (index.name().equals(Identifier.of(name))) {
      return true;
    }
    String lower = name.toLowerCase(Locale.ROOT);
    boolean keyName = lower.startsWith("primary") || lower.endsWith("_pkey");
    return index.origin() == IndexOrigin.PRIMARY_KEY
        && (keyName || table.index(Identifier.of(name)).isEmpty());
  }
}
