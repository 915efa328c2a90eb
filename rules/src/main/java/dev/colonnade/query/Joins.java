package dev.colonnade.query;

import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.JoinTree.Filtered;
import dev.colonnade.query.JoinTree.Join;
import dev.colonnade.query.JoinTree.Kind;
import dev.colonnade.query.JoinTree.Leaf;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * What the joins of a block come to: which items can be rows of NULLs, which must be read before
 * which, and which condition may restrict the reading of which table.
 *
 * @param nullSupplied uses that can be a row of NULLs
 * @param after for each use, the uses that must be read before it
 * @param conjuncts all conditions of WHERE and ON with the uses that they may restrict
 */
public record Joins(
    Set<Integer> nullSupplied, Map<Integer, Set<Integer>> after, List<Conjunct> conjuncts) {

  /** Copies the collections. */
  public Joins {
    nullSupplied = Collections.unmodifiableSet(new TreeSet<>(nullSupplied));
    after = Collections.unmodifiableMap(new TreeMap<>(after));
    conjuncts = List.copyOf(conjuncts);
  }

  /** A block without FROM. */
  public static Joins none(List<Predicate> where) {
    return new Joins(
        Set.of(), Map.of(), where.stream().map(it -> new Conjunct(it, Set.of())).toList());
  }

  /**
   * Reduces the outer joins and places the conditions.
   *
   * @param where the normalized conjuncts of WHERE
   */
  public static Joins of(JoinTree tree, List<Predicate> where) {
    return of(tree, where, OuterJoinReading.FULL);
  }

  /**
   * Reduces the outer joins as far as the database does and places the conditions.
   *
   * @param where the normalized conjuncts of WHERE
   * @param reading what the database makes of outer joins
   */
  public static Joins of(JoinTree tree, List<Predicate> where, OuterJoinReading reading) {
    Placement placement = new Placement(reading);
    JoinTree reduced = new Reduction(reading).reduce(tree, where);
    placement.place(reduced);
    Set<Integer> certain = certain(reduced);
    certain.removeAll(placement.unreached);
    where.forEach(predicate -> placement.condition(predicate, certain));
    Set<Integer> nullSupplied = new HashSet<>(reduced.uses());
    nullSupplied.removeAll(certain(reduced));
    return new Joins(nullSupplied, placement.after, placement.conjuncts);
  }

  /**
   * Turns outer joins into inner ones where a condition above rejects the rows of NULLs that they
   * would add; a full join loses the sides that are rejected. Most supported optimizers do this
   * (MySQL 8.4 manual, 10.2.1.9 "Outer Join Simplification"; PostgreSQL source, prepjointree.c,
   * reduce_outer_joins; SQLite "The SQLite Query Optimizer Overview", 7 "OUTER JOIN strength
   * reduction"; for the others common practice).
   *
   * @param where the normalized conjuncts of WHERE
   */
  public static JoinTree reduce(JoinTree tree, List<Predicate> where) {
    return new Reduction(OuterJoinReading.FULL).reduce(tree, where);
  }

  /** The uses that are never rows of NULLs, seen from the top of the tree. */
  private static Set<Integer> certain(JoinTree tree) {
    if (tree instanceof Filtered filtered) {
      return certain(filtered.tree());
    }
    if (!(tree instanceof Join join)) {
      return new HashSet<>(tree.uses());
    }
    Set<Integer> uses = new HashSet<>();
    if (join.kind() != Kind.FULL) {
      uses.addAll(certain(join.left()));
    }
    if (join.kind() == Kind.INNER) {
      uses.addAll(certain(join.right()));
    }
    return uses;
  }

  /** The uses that stand in an outer join. */
  private static Set<Integer> outerJoined(JoinTree tree) {
    if (tree instanceof Filtered filtered) {
      return outerJoined(filtered.tree());
    }
    if (!(tree instanceof Join join)) {
      return Set.of();
    }
    if (join.kind() != Kind.INNER) {
      return join.uses();
    }
    Set<Integer> uses = new HashSet<>(outerJoined(join.left()));
    uses.addAll(outerJoined(join.right()));
    return uses;
  }

  /** Collects orders and conditions on the way down. */
  private static final class Placement {
    private final OuterJoinReading reading;
    private final Set<Integer> unreached = new HashSet<>();
    private final Map<Integer, Set<Integer>> after = new TreeMap<>();
    private final List<Conjunct> conjuncts = new ArrayList<>();

    Placement(OuterJoinReading reading) {
      this.reading = reading;
    }

    void place(JoinTree tree) {
      if (tree instanceof Leaf leaf) {
        after.putIfAbsent(leaf.use(), Set.of());
      } else if (tree instanceof Filtered filtered) {
        place(filtered.tree());
        Set<Integer> may = certain(filtered.tree());
        filtered.conditions().forEach(predicate -> condition(predicate, may));
      } else if (tree instanceof Join join) {
        place(join.left());
        place(join.right());
        Set<Integer> may =
            switch (join.kind()) {
              case INNER -> certain(join);
              case LEFT -> certain(join.right());
              case FULL -> new HashSet<>();
            };
        if (!reading.reached() && join.kind() == Kind.INNER && !join.on().isEmpty()) {
          unreached.addAll(outerJoined(join.left()));
          unreached.addAll(outerJoined(join.right()));
          may.removeAll(unreached);
        }
        join.on().forEach(predicate -> condition(predicate, may));
        if (join.kind() != Kind.INNER) {
          order(join);
        }
      }
    }

    void condition(Predicate predicate, Set<Integer> may) {
      Set<Integer> uses = new HashSet<>();
      predicate.columns().forEach(column -> uses.add(column.use()));
      uses.retainAll(may);
      conjuncts.add(new Conjunct(predicate, uses));
    }

    /** The right side follows the items that ON compares it with, or all where it names none. */
    private void order(Join join) {
      Set<Integer> left = join.left().uses();
      Set<Integer> named = new TreeSet<>();
      join.on().forEach(on -> on.columns().forEach(column -> named.add(column.use())));
      named.retainAll(left);
      for (int use : join.right().uses()) {
        Set<Integer> before = new TreeSet<>(after.getOrDefault(use, Set.of()));
        before.addAll(named.isEmpty() ? left : named);
        after.put(use, before);
      }
    }
  }
}
