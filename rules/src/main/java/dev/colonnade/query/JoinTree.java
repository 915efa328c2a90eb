package dev.colonnade.query;

import dev.colonnade.predicate.Predicate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * How the FROM items of a block are joined, as written: the form in which outer joins are judged.
 */
public sealed interface JoinTree {

  /** The uses in the tree, from left to right. */
  Set<Integer> uses();

  /** One FROM item. */
  record Leaf(int use) implements JoinTree {
    @Override
    public Set<Integer> uses() {
      return Set.of(use);
    }
  }

  /**
   * Two trees joined.
   *
   * @param on the conjuncts of ON; none for a cross join
   */
  record Join(Kind kind, JoinTree left, JoinTree right, List<Predicate> on) implements JoinTree {
    /** Copies the list. */
    public Join {
      on = List.copyOf(on);
    }

    @Override
    public Set<Integer> uses() {
      Set<Integer> uses = new LinkedHashSet<>(left.uses());
      uses.addAll(right.uses());
      return uses;
    }
  }

  /**
   * A tree whose rows must satisfy conditions before they are joined with others: a derived table
   * that is read as part of the query around it.
   */
  record Filtered(JoinTree tree, List<Predicate> conditions) implements JoinTree {
    /** Copies the list. */
    public Filtered {
      conditions = List.copyOf(conditions);
    }

    @Override
    public Set<Integer> uses() {
      return tree.uses();
    }
  }

  /** The kinds of join. A right join is the left join of the swapped trees. */
  enum Kind {
    /** Matching pairs only; without conditions, all pairs. */
    INNER,
    /** Every row of the left tree, with NULLs where nothing on the right matches. */
    LEFT,
    /** Every row of both trees. */
    FULL
  }

  /** Items joined without condition, in order; at least one. */
  static JoinTree cross(List<JoinTree> items) {
    List<JoinTree> rest = new ArrayList<>(items);
    JoinTree tree = rest.remove(0);
    for (JoinTree item : rest) {
      tree = new Join(Kind.INNER, tree, item, List.of());
    }
    return tree;
  }
}
