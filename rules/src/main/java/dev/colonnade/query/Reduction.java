package dev.colonnade.query;

import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.query.JoinTree.Filtered;
import dev.colonnade.query.JoinTree.Join;
import dev.colonnade.query.JoinTree.Kind;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Outer joins that come to inner ones.
 *
 * @param reading which conditions the database takes into account
 */
record Reduction(OuterJoinReading reading) {

  /** The tree with inner joins where a condition rejects the rows of NULLs. */
  JoinTree reduce(JoinTree tree, List<Predicate> where) {
    return reduce(tree, rejectedAbove(where));
  }

  private Set<Integer> rejectedAbove(List<Predicate> conditions) {
    return reading.byConditions() ? rejected(conditions) : Set.of();
  }

  private Set<Integer> rejected(List<Predicate> conditions) {
    Set<Integer> uses = new HashSet<>();
    conditions.stream()
        .filter(condition -> reading.bySubqueries() || !(condition instanceof InSubquery))
        .forEach(condition -> uses.addAll(NullRejection.rejectedBy(condition)));
    return uses;
  }

  private Set<Integer> rejectedByJoin(List<Predicate> on) {
    return reading.byLaterJoins() ? rejected(on) : Set.of();
  }

  private JoinTree reduce(JoinTree tree, Set<Integer> rejected) {
    if (tree instanceof Filtered filtered) {
      Set<Integer> all = new HashSet<>(rejected);
      all.addAll(rejectedAbove(filtered.conditions()));
      return new Filtered(reduce(filtered.tree(), all), filtered.conditions());
    }
    if (!(tree instanceof Join join)) {
      return tree;
    }
    boolean leftRejected = !Collections.disjoint(join.left().uses(), rejected);
    boolean rightRejected = !Collections.disjoint(join.right().uses(), rejected);
    return switch (join.kind()) {
      case INNER -> inner(join, rejected);
      case LEFT -> rightRejected ? inner(join, rejected) : left(join, rejected);
      case FULL -> {
        if (leftRejected && rightRejected) {
          yield inner(join, rejected);
        }
        if (leftRejected) {
          yield left(join, rejected);
        }
        if (rightRejected) {
          yield left(
              new Join(Kind.LEFT, /* left= */ join.right(), /* right= */ join.left(), join.on()),
              rejected);
        }
        yield new Join(
            Kind.FULL, reduce(join.left(), Set.of()), reduce(join.right(), Set.of()), join.on());
      }
    };
  }

  private JoinTree inner(Join join, Set<Integer> rejected) {
    Set<Integer> all = new HashSet<>(rejected);
    all.addAll(rejectedByJoin(join.on()));
    return new Join(Kind.INNER, reduce(join.left(), all), reduce(join.right(), all), join.on());
  }

  private JoinTree left(Join join, Set<Integer> rejected) {
    return new Join(
        Kind.LEFT,
        reduce(join.left(), rejected),
        reduce(join.right(), rejectedByJoin(join.on())),
        join.on());
  }
}
