package dev.colonnade.query.sql;

import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.JoinTree;
import dev.colonnade.query.sql.DerivedReader.Position;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.View;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import net.sf.jsqlparser.expression.Alias;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.select.FromItem;
import net.sf.jsqlparser.statement.select.Join;
import net.sf.jsqlparser.statement.select.LateralSubSelect;
import net.sf.jsqlparser.statement.select.ParenthesedFromItem;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.TableFunction;
import net.sf.jsqlparser.statement.select.Values;

/** Reads FROM clauses. */
final class FromReader {
  private final BlockBuilder block;
  private final DerivedReader derived;

  FromReader(BlockBuilder block) {
    this.block = block;
    this.derived = new DerivedReader(block);
  }

  /** Reads a FROM clause, or nothing where there is none. */
  void read(FromItem first, List<Join> joins) {
    if (first != null) {
      block.join(tree(first, joins));
    }
  }

  /** Reads one item with the joins behind it. */
  JoinTree tree(FromItem first, List<Join> joins) {
    return tree(first, joins, block.canBeMissing(), block.from().isEmpty());
  }

  private JoinTree tree(FromItem first, List<Join> joins, boolean missing, boolean alone) {
    if (joins == null || joins.isEmpty()) {
      return item(first, false, new Position(alone, missing));
    }
    JoinTree tree = item(first, false, new Position(false, missing || losesRows(joins, 0)));
    for (int i = 0; i < joins.size(); i++) {
      Join join = joins.get(i);
      rejectUnmodelled(join, joins);
      boolean inner = join.isLeft() || join.isFull() || (join.isApply() && join.isOuter());
      Position position = new Position(false, missing || inner || losesRows(joins, i + 1));
      tree = join(tree, join, item(join.getFromItem(), join.isApply(), position));
    }
    return tree;
  }

  /** True where rows of NULLs may stand for those of the items before a join. */
  private static boolean losesRows(List<Join> joins, int from) {
    return joins.subList(from, joins.size()).stream().anyMatch(it -> it.isRight() || it.isFull());
  }

  private static void rejectUnmodelled(Join join, List<Join> joins) {
    if (join.isSemi() || join.isAsOf() || join.isWindowJoin() || join.isArray()) {
      throw new UnreadableSqlException("a join of this kind is not modelled");
    }
    boolean nested = join.getOnExpressions() != null && join.getOnExpressions().size() > 1;
    if (nested && joins.stream().anyMatch(it -> it.isLeft() || it.isRight() || it.isFull())) {
      throw new UnreadableSqlException("nested ON of outer joins is not modelled");
    }
  }

  private JoinTree join(JoinTree left, Join join, JoinTree right) {
    boolean outerApply = join.isApply() && join.isOuter();
    JoinTree.Kind kind =
        join.isFull()
            ? JoinTree.Kind.FULL
            : join.isLeft() || join.isRight() || outerApply
                ? JoinTree.Kind.LEFT
                : JoinTree.Kind.INNER;
    List<Predicate> on = new ArrayList<>();
    if (join.getOnExpressions() != null) {
      join.getOnExpressions().stream()
          .filter(condition -> condition != null)
          .forEach(
              condition -> on.addAll(Conditions.conjuncts(block.reader().predicate(condition))));
    }
    for (Identifier name : shared(join, left, right)) {
      on.add(merge(name, join, left, right));
    }
    return join.isRight()
        ? new JoinTree.Join(kind, /* left= */ right, /* right= */ left, on)
        : new JoinTree.Join(kind, left, right, on);
  }

  /** The columns of USING or of a natural join. */
  private List<Identifier> shared(Join join, JoinTree left, JoinTree right) {
    if (join.isNatural()) {
      Set<Identifier> names = names(left.uses());
      names.retainAll(names(right.uses()));
      return List.copyOf(names);
    }
    return join.getUsingColumns() == null
        ? List.of()
        : join.getUsingColumns().stream()
            .map(column -> Identifier.of(column.getColumnName()))
            .toList();
  }

  private Set<Identifier> names(Set<Integer> uses) {
    Set<Identifier> names = new LinkedHashSet<>();
    for (Scope.Item item : block.scope().items()) {
      if (uses.containsAll(item.uses())) {
        if (!item.shape().complete()) {
          throw new UnreadableSqlException("natural join of unknown columns");
        }
        names.addAll(item.shape().names());
      }
    }
    return names;
  }

  private Predicate merge(Identifier name, Join join, JoinTree left, JoinTree right) {
    Expression leftValue = shared(name, left.uses());
    Expression rightValue = shared(name, right.uses());
    leftValue.columns().forEach(block.scope()::note);
    rightValue.columns().forEach(block.scope()::note);
    Expression merged = join.isRight() ? rightValue : leftValue;
    if (join.isFull()) {
      merged = new Call("coalesce", List.of(leftValue, rightValue), true);
    }
    block.scope().merge(name, merged);
    return new Comparison(leftValue, ComparisonOperator.EQUAL, rightValue);
  }

  private Expression shared(Identifier name, Set<Integer> uses) {
    Expression before = block.scope().merged().get(name);
    if (before != null
        && before.columns().stream().allMatch(column -> uses.contains(column.use()))) {
      return before;
    }
    List<Scope.Item> having =
        block.scope().items().stream()
            .filter(item -> uses.containsAll(item.uses()) && item.shape().has(name))
            .toList();
    if (having.size() != 1) {
      throw new UnreadableSqlException(
          (having.isEmpty() ? "unknown column " : "ambiguous column ") + name);
    }
    return having.get(0).column(name);
  }

  private JoinTree item(FromItem item, boolean lateral, Position position) {
    if (item == null) {
      throw new UnreadableSqlException("no table is named");
    }
    if (item.getPivot() != null || item.getUnPivot() != null) {
      throw new UnreadableSqlException("PIVOT is not modelled");
    }
    if (item instanceof Table table) {
      return table(table, position);
    }
    if (item instanceof ParenthesedFromItem nested) {
      if (nested.getFromItem() instanceof Values values) {
        return values(values, nested.getAlias());
      }
      if (nested.getAlias() != null) {
        throw new UnreadableSqlException("an alias of a join is not modelled");
      }
      return tree(
          nested.getFromItem(), nested.getJoins(), position.canBeMissing(), position.alone());
    }
    if (item instanceof Values values) {
      return values(values, values.getAlias());
    }
    if (item instanceof Select select) {
      return derived(
          select, item.getAlias(), lateral || item instanceof LateralSubSelect, position);
    }
    if (item instanceof TableFunction function) {
      return function(function);
    }
    return opaque(item.getAlias(), "", Set.of());
  }

  private JoinTree table(Table table, Position position) {
    Identifier name = Identifier.of(table.getName());
    Identifier alias = alias(table.getAlias(), name);
    if (table.getSchemaName() == null) {
      Optional<CommonTable> common = block.scope().commonTable(name);
      if (common.isPresent()) {
        return derived.commonTable(
            common.get(), position, name, alias, QueryReader.columnNames(table.getAlias()));
      }
    }
    Identifier written = QueryReader.written(table);
    Optional<dev.colonnade.schema.Table> known = block.state().schema().table(written);
    if (known.isPresent()) {
      return table(known.get(), alias, table.getAlias());
    }
    Optional<View> view = block.state().schema().view(written);
    if (view.isPresent()) {
      return derived.view(view.get(), position, alias, QueryReader.columnNames(table.getAlias()));
    }
    if (name.folded().equals("dual") || name.folded().equals("sysdummy1")) {
      return derived.add(Optional.empty(), alias, name, new RowShape(List.of(), true), Set.of());
    }
    List<String> qualifiers =
        Stream.of(table.getSchemaName(), table.getCatalogName()).filter(Objects::nonNull).toList();
    if (CatalogTables.contains(qualifiers, name)) {
      return opaque(table.getAlias(), table.getName(), Set.of());
    }
    throw new UnreadableSqlException("unknown table " + written);
  }

  private JoinTree table(dev.colonnade.schema.Table known, Identifier alias, Alias written) {
    if (!QueryReader.columnNames(written).isEmpty()) {
      throw new UnreadableSqlException("renamed columns of a table are not modelled");
    }
    int use = block.state().nextUse();
    block.add(new TableUse(use, known.name(), alias.text(), false, Set.of(), false));
    RowShape shape = new RowShape(known.columns().stream().map(Column::name).toList(), true);
    block.scope().add(Scope.Item.of(use, alias, known.name(), shape));
    return new JoinTree.Leaf(use);
  }

  private JoinTree derived(Select select, Alias written, boolean lateral, Position position) {
    Identifier alias = alias(written, Identifier.of(""));
    return derived.derived(select, position, alias, QueryReader.columnNames(written), lateral);
  }

  private JoinTree values(Values values, Alias written) {
    Set<ColumnRef> columns = new LinkedHashSet<>();
    values
        .getExpressions()
        .forEach(row -> columns.addAll(block.reader().expression(row).columns()));
    return opaque(written, "", usesOf(block, columns));
  }

  private JoinTree function(TableFunction function) {
    Expression call = block.reader().expression(function.getFunction());
    String name = call instanceof Call it ? it.name() : "";
    return opaque(function.getAlias(), name, usesOf(block, call.columns()));
  }

  /** The uses of the block's own items among the columns. */
  static Set<Integer> usesOf(BlockBuilder block, Set<ColumnRef> columns) {
    Set<Integer> own = new HashSet<>();
    block.scope().items().forEach(item -> own.addAll(item.uses()));
    Set<Integer> uses = new HashSet<>();
    columns.forEach(column -> uses.add(column.use()));
    uses.retainAll(own);
    return uses;
  }

  /** Rows of something that no index serves. */
  private JoinTree opaque(Alias written, String name, Set<Integer> before) {
    Identifier alias = alias(written, Identifier.of(name));
    RowShape shape = RowShape.UNKNOWN.renamed(QueryReader.columnNames(written));
    return derived.add(Optional.empty(), alias, alias, shape, before);
  }

  private static Identifier alias(Alias written, Identifier otherwise) {
    return written == null || written.getName() == null
        ? otherwise
        : Identifier.of(written.getName());
  }
}
