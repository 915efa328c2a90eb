package dev.colonnade.access;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Not;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Subqueries under EXISTS and IN as members of a join: {@code a in (select b from s where c)} asks
 * of s what a join on {@code s.b = a and c} does, and of the outer table likewise where s is read
 * first (PostgreSQL source, prepjointree.c, pull_up_sublinks; MySQL 8.4 manual, 10.2.2.1
 * "Optimizing IN and EXISTS Subquery Predicates with Semijoin Transformations"; Derby Tuning Guide,
 * "Flattening a subquery into an EXISTS join").
 */
final class SemiJoins {
  private final Query query;
  private final boolean carries;

  /**
   * @param carries true when what a subquery fixes is carried to a table that is read before it
   */
  SemiJoins(Query query, boolean carries) {
    this.query = query;
    this.carries = carries;
  }

  /** The uses of the blocks around a block, innermost first. */
  Set<Integer> usesAround(QueryBlock block) {
    Set<Integer> uses = new LinkedHashSet<>();
    Optional<QueryBlock> around = parent(block);
    while (around.isPresent()) {
      around.get().from().forEach(item -> uses.add(item.use()));
      around = parent(around.get());
    }
    return uses;
  }

  /**
   * The conditions that a block puts on its tables once certain uses are read: its own, that of the
   * IN over it, those of the subqueries that are joined with it, before or after, and what the
   * block around it makes equal.
   *
   * @param joined uses of subqueries that are members of the same join
   */
  List<Conjunct> conjuncts(QueryBlock block, Set<Integer> read, Set<Integer> joined) {
    List<Conjunct> result = new ArrayList<>();
    boolean member = isWithin(block, joined) && isAskedFor(block);
    for (Conjunct conjunct : block.conjuncts()) {
      Optional<QueryBlock> below = subquery(conjunct.predicate());
      if (below.isEmpty() || !isWithin(below.get(), joined)) {
        result.add(member ? ofJoin(conjunct, block) : conjunct);
        continue;
      }
      if (!carries && !isWithin(below.get(), read)) {
        continue;
      }
      List<Predicate> conditions = new ArrayList<>();
      if (conjunct.predicate() instanceof InSubquery in) {
        conditions.addAll(pairs(in, below.get()));
      }
      below.get().conjuncts().forEach(it -> conditions.add(it.predicate()));
      conditions.forEach(it -> result.add(new Conjunct(it, uses(it))));
    }
    parent(block).ifPresent(outer -> result.addAll(ofSurroundings(block, outer, read, joined)));
    return result;
  }

  /**
   * The pairs of the IN over a block and, where it is a member of the join, what makes columns
   * equal around it and in the subqueries beside it.
   */
  private List<Conjunct> ofSurroundings(
      QueryBlock block, QueryBlock outer, Set<Integer> read, Set<Integer> joined) {
    boolean member = isWithin(block, joined);
    List<Conjunct> result = new ArrayList<>();
    for (Conjunct conjunct : outer.conjuncts()) {
      Optional<QueryBlock> below = subquery(conjunct.predicate());
      if (below.filter(block::equals).isPresent()) {
        pairs(conjunct, block).stream()
            .filter(it -> member || read.containsAll(outerUses(it, block)))
            .forEach(it -> result.add(new Conjunct(it, uses(it))));
      } else if (conjunct.predicate() instanceof Not not
          && not.part() instanceof InSubquery in
          && isOf(in, block)) {
        pairs(in, block).stream()
            .filter(it -> isOfRow(outerUses(it, block), read))
            .forEach(it -> result.add(new Conjunct(it, uses(it))));
      } else if (member && below.filter(it -> isWithin(it, joined)).isPresent()) {
        pairs(conjunct, below.get()).forEach(it -> result.add(new Conjunct(it, uses(it))));
        below.get().conjuncts().stream()
            .filter(it -> equatesColumns(it.predicate()))
            .map(it -> ofJoin(it, below.get()))
            .forEach(result::add);
      } else if (member && isPair(conjunct)) {
        result.add(conjunct);
      }
    }
    return result;
  }

  /** True where NOT IN is asked once for each row of the tables around it. */
  private static boolean isOfRow(Set<Integer> around, Set<Integer> read) {
    return !around.isEmpty() && read.containsAll(around);
  }

  private static List<Predicate> pairs(Conjunct conjunct, QueryBlock below) {
    return conjunct.predicate() instanceof InSubquery in && isOf(in, below)
        ? pairs(in, below)
        : List.of();
  }

  /** True where a row is wanted of a subquery, not its absence. */
  private boolean isAskedFor(QueryBlock block) {
    return parent(block).stream()
        .flatMap(outer -> outer.conjuncts().stream())
        .anyMatch(it -> subquery(it.predicate()).filter(block::equals).isPresent());
  }

  /** An equality with a column around a subquery that is joined holds on both sides of it. */
  private static Conjunct ofJoin(Conjunct conjunct, QueryBlock block) {
    Set<Integer> own = uses(conjunct.predicate());
    own.retainAll(block.from().stream().map(FromItem::use).toList());
    return equatesColumns(conjunct.predicate())
            && !own.isEmpty()
            && conjunct.restricts().containsAll(own)
        ? new Conjunct(conjunct.predicate(), uses(conjunct.predicate()))
        : conjunct;
  }

  /** True where two columns are equal in every row. */
  private static boolean isPair(Conjunct conjunct) {
    return equatesColumns(conjunct.predicate())
        && conjunct.restricts().equals(uses(conjunct.predicate()));
  }

  private static boolean equatesColumns(Predicate predicate) {
    return predicate instanceof Comparison comparison
        && comparison.operator() == ComparisonOperator.EQUAL
        && comparison.left() instanceof ColumnRef
        && comparison.right() instanceof ColumnRef;
  }

  private static boolean isOf(InSubquery in, QueryBlock block) {
    return in.block() == block.number() && block.role() == BlockRole.IN;
  }

  private static Set<Integer> outerUses(Predicate condition, QueryBlock block) {
    Set<Integer> uses = uses(condition);
    block.from().forEach(item -> uses.remove(item.use()));
    return uses;
  }

  private static Set<Integer> uses(Predicate condition) {
    Set<Integer> uses = new LinkedHashSet<>();
    condition.columns().stream().map(ColumnRef::use).forEach(uses::add);
    return uses;
  }

  private static boolean isWithin(QueryBlock below, Set<Integer> uses) {
    return !below.from().isEmpty()
        && below.from().stream().map(FromItem::use).allMatch(uses::contains);
  }

  private static List<Predicate> pairs(InSubquery in, QueryBlock below) {
    List<Predicate> result = new ArrayList<>();
    boolean fits =
        below.projection().size() == in.operands().size()
            && below.aggregates().isEmpty()
            && below.groupBy().isEmpty()
            && below.limit().isEmpty();
    for (int i = 0; fits && i < in.operands().size(); i++) {
      Expression inner = below.projection().get(i);
      Comparison pair = new Comparison(inner, ComparisonOperator.EQUAL, in.operands().get(i));
      result.addAll(Conditions.conjuncts(Conditions.normalize(pair)));
    }
    return result;
  }

  private Optional<QueryBlock> subquery(Predicate predicate) {
    if (predicate instanceof InSubquery in) {
      return block(in.block());
    }
    return predicate instanceof Exists exists ? block(exists.block()) : Optional.empty();
  }

  private Optional<QueryBlock> parent(QueryBlock block) {
    return block.parent().flatMap(this::block);
  }

  private Optional<QueryBlock> block(int number) {
    return query.blocks().stream().filter(it -> it.number() == number).findFirst();
  }
}
