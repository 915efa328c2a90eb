package dev.colonnade.query.sql;

import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.JoinTree;
import dev.colonnade.query.JoinTree.Join;
import dev.colonnade.query.JoinTree.Kind;
import dev.colonnade.query.JoinTree.Leaf;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.operators.conditional.AndExpression;
import net.sf.jsqlparser.expression.operators.relational.OldOracleJoinBinaryExpression;
import net.sf.jsqlparser.expression.operators.relational.ParenthesedExpressionList;
import net.sf.jsqlparser.expression.operators.relational.SupportsOldOracleJoinSyntax;
import net.sf.jsqlparser.schema.Column;

/**
 * Reads WHERE. Conditions with Oracle's mark {@code (+)} are the ON of a left join whose inner side
 * is the table of the marked columns (Oracle SQL Language Reference, "Joins", "Outer Joins").
 */
final class WhereReader {
  private final BlockBuilder block;
  private final Map<Integer, List<Predicate>> outer = new LinkedHashMap<>();

  private WhereReader(BlockBuilder block) {
    this.block = block;
  }

  static void read(BlockBuilder block, Expression where) {
    new WhereReader(block).read(where);
  }

  private void read(Expression where) {
    for (Expression part : parts(where)) {
      Set<Integer> marked = marked(part);
      if (marked.isEmpty()) {
        block.where(block.reader().predicate(part));
      } else if (marked.size() == 1) {
        outer
            .computeIfAbsent(marked.iterator().next(), use -> new ArrayList<>())
            .addAll(Conditions.conjuncts(block.reader().predicate(part)));
      } else {
        throw new UnreadableSqlException("(+) on two tables in one condition");
      }
    }
    if (!outer.isEmpty()) {
      block.replaceJoins(this::withOuterJoins);
    }
  }

  /** The operands of the topmost ANDs. */
  static List<Expression> parts(Expression condition) {
    if (condition instanceof ParenthesedExpressionList<?> list && list.size() == 1) {
      return parts(list.get(0));
    }
    List<Expression> result = new ArrayList<>();
    Expression rest = condition;
    while (rest instanceof AndExpression and) {
      result.addAll(0, parts(and.getRightExpression()));
      rest = and.getLeftExpression();
    }
    if (rest == condition) {
      return List.of(condition);
    }
    result.addAll(0, parts(rest));
    return result;
  }

  /** The uses whose columns carry the mark. */
  private Set<Integer> marked(Expression part) {
    Set<Column> columns = new LinkedHashSet<>();
    part.accept(new Marks(columns), null);
    if (part instanceof OldOracleJoinBinaryExpression comparison
        && comparison.getOldOracleJoinSyntax() == SupportsOldOracleJoinSyntax.ORACLE_JOIN_LEFT
        && comparison.getRightExpression() instanceof Column column) {
      columns.add(column);
    }
    Set<Integer> uses = new HashSet<>();
    for (Column column : columns) {
      Optional<Identifier> qualifier =
          Optional.ofNullable(column.getTable()).map(it -> Identifier.of(it.getName()));
      dev.colonnade.predicate.Expression value =
          block.column(qualifier, Identifier.of(column.getColumnName()));
      if (value instanceof ColumnRef ref) {
        uses.add(ref.use());
      }
    }
    return uses;
  }

  /**
   * Takes the marked tables out of the comma list and joins them again, each after its partners.
   */
  private JoinTree withOuterJoins(JoinTree tree) {
    JoinTree result =
        without(tree, outer.keySet())
            .orElseThrow(() -> new UnreadableSqlException("(+) on every table"));
    Map<Integer, List<Predicate>> waiting = new LinkedHashMap<>(outer);
    while (!waiting.isEmpty()) {
      Set<Integer> there = result.uses();
      Integer next =
          waiting.entrySet().stream()
              .filter(
                  entry ->
                      partners(entry.getKey(), entry.getValue()).stream().allMatch(there::contains))
              .map(Map.Entry::getKey)
              .findFirst()
              .orElseThrow(() -> new UnreadableSqlException("(+) in a circle"));
      result = new Join(Kind.LEFT, result, new Leaf(next), waiting.remove(next));
    }
    return result;
  }

  private Set<Integer> partners(int use, List<Predicate> conditions) {
    Set<Integer> partners = new HashSet<>();
    conditions.forEach(it -> it.columns().forEach(column -> partners.add(column.use())));
    partners.remove(use);
    partners.retainAll(
        block.scope().items().stream().flatMap(item -> item.uses().stream()).toList());
    return partners;
  }

  private static Optional<JoinTree> without(JoinTree tree, Set<Integer> uses) {
    if (!(tree instanceof Join join)) {
      return uses.containsAll(tree.uses()) ? Optional.empty() : Optional.of(tree);
    }
    if (join.kind() != Kind.INNER || !join.on().isEmpty()) {
      throw new UnreadableSqlException("(+) beside JOIN");
    }
    Optional<JoinTree> left = without(join.left(), uses);
    Optional<JoinTree> right = without(join.right(), uses);
    if (left.isEmpty() || right.isEmpty()) {
      return left.isEmpty() ? right : left;
    }
    return Optional.of(new Join(Kind.INNER, left.get(), right.get(), List.of()));
  }

  /** Collects marked columns outside subqueries. */
  private static final class Marks extends ValueVisitor {
    private final Set<Column> columns;

    private Marks(Set<Column> columns) {
      this.columns = columns;
    }

    @Override
    public <S> Void visit(Column column, S unused) {
      if (column.getOldOracleJoinSyntax() != SupportsOldOracleJoinSyntax.NO_ORACLE_JOIN) {
        columns.add(column);
      }
      return null;
    }
  }
}
