package dev.colonnade.query.sql;

import dev.colonnade.dialect.DerivedTableRules.CommonTables;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.JoinTree;
import dev.colonnade.schema.View;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.Statement;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.SetOperationList;
import net.sf.jsqlparser.statement.select.WithItem;
import net.sf.jsqlparser.util.TablesNamesFinder;

/**
 * Reads queries in FROM: as part of the block around them where the database does so, else as
 * blocks of their own.
 */
final class DerivedReader {
  /**
   * Where in FROM a query stands.
   *
   * @param alone true for the only item of its FROM clause
   * @param canBeMissing true on the inner side of an outer join
   */
  record Position(boolean alone, boolean canBeMissing) {}

  private final BlockBuilder block;
  private final ReadingState state;

  DerivedReader(BlockBuilder block) {
    this.block = block;
    this.state = block.state();
  }

  /** A derived table. */
  JoinTree derived(
      Select select,
      Position position,
      Identifier alias,
      List<Identifier> columns,
      boolean lateral) {
    return read(
        select,
        position,
        new Named(alias, alias, columns),
        new Scope(Optional.of(block.scope()), lateral),
        BlockRole.DERIVED_TABLE);
  }

  /** What a query in FROM is called. */
  private record Named(Identifier alias, Identifier name, List<Identifier> columns) {}

  private JoinTree read(
      Select select, Position position, Named named, Scope frame, BlockRole role) {
    Optional<PlainSelect> plain =
        PlainQuery.of(select).filter(query -> becomesPart(query, position));
    if (plain.isPresent()) {
      return part(plain.get(), position, named, frame);
    }
    QueryReader.Result result = new QueryReader(state).read(select, block.number(), role, frame);
    RowShape shape = result.shape().renamed(named.columns());
    return add(
        Optional.of(result.block()),
        named.alias(),
        named.name(),
        shape,
        FromReader.usesOf(block, result.outer()));
  }

  private boolean becomesPart(PlainSelect query, Position position) {
    boolean joins = query.getJoins() != null && !query.getJoins().isEmpty();
    return switch (state.derivedTables().merged().value()) {
      case NONE -> false;
      case ALONE -> position.alone();
      case RESTRICTED_WHERE_MISSING -> !(position.canBeMissing() && (joins || block.isDistinct()));
      case ANY -> true;
    };
  }

  private JoinTree part(PlainSelect query, Position position, Named named, Scope frame) {
    new QueryReader(state).readWith(query.getWithItemsList(), block.number(), frame);
    BlockBuilder guest = block.guest(new Scope(Optional.of(frame), true), position.canBeMissing());
    RowShape shape = new SelectReader(guest).readAsPart(query).renamed(named.columns());
    JoinTree tree = block.absorb(guest);
    Map<Identifier, Expression> values = new LinkedHashMap<>();
    for (int i = 0; i < shape.names().size(); i++) {
      values.putIfAbsent(
          shape.names().get(i), value(guest.projection().get(i), position.canBeMissing()));
    }
    block.scope().add(new Scope.Item(named.alias(), named.name(), shape, tree.uses(), values));
    return tree;
  }

  /** A value of a row that can be missing is NULL then, whatever it is worked out from. */
  private static Expression value(Expression value, boolean canBeMissing) {
    return canBeMissing && !(value instanceof ColumnRef)
        ? new OpaqueExpression(value.render(), value.columns())
        : value;
  }

  /** A common table expression by its name. */
  JoinTree commonTable(
      CommonTable table,
      Position position,
      Identifier name,
      Identifier alias,
      List<Identifier> columns) {
    if (table.deferred().isEmpty()) {
      return add(table.block(), alias, name, table.shape().renamed(columns), Set.of());
    }
    CommonTable.Deferred deferred = table.deferred().get();
    return read(
        deferred.select(),
        position,
        new Named(alias, name, columns.isEmpty() ? deferred.aliases() : columns),
        new Scope(Optional.of(deferred.scope()), true),
        BlockRole.COMMON_TABLE_EXPRESSION);
  }

  /** True for a common table expression that the database treats like a derived table. */
  static boolean isReadWhereNamed(WithItem<?> item, Select body, ReadingState state) {
    CommonTables rule = state.derivedTables().commonTables().value();
    Identifier name = Identifier.of(item.getAliasName());
    boolean readsItself = item.isRecursive() || body instanceof SetOperationList;
    return rule != CommonTables.NONE
        && !readsItself
        && !item.isMaterialized()
        && (rule == CommonTables.ANY || timesNamed(name, item, state.roots().peek()) == 1);
  }

  /** How often it is named; in its own query the name means a table. */
  private static int timesNamed(Identifier name, WithItem<?> item, Statement statement) {
    Mentions all = new Mentions(name);
    all.getTables(statement);
    Mentions own = new Mentions(name);
    own.getTables((Statement) item.getSelect());
    all.found.removeAll(own.found);
    return all.found.size();
  }

  /** Finds the places where a table is named. */
  private static final class Mentions extends TablesNamesFinder<Void> {
    private final Identifier name;
    private final Set<Table> found = Collections.newSetFromMap(new IdentityHashMap<>());

    private Mentions(Identifier name) {
      this.name = name;
    }

    @Override
    public <S> Void visit(Table table, S context) {
      if (table.getSchemaName() == null && Identifier.of(table.getName()).equals(name)) {
        found.add(table);
      }
      return super.visit(table, context);
    }
  }

  /** A view by its name. */
  JoinTree view(View view, Position position, Identifier alias, List<Identifier> columns) {
    if (state.views().contains(view.name())) {
      throw new UnreadableSqlException("the view " + view.name() + " reads itself");
    }
    if (view.definition().isEmpty()) {
      throw new UnreadableSqlException("the definition of view " + view.name() + " is unknown");
    }
    state.views().push(view.name());
    try {
      List<Statement> statements = state.parser().parse(view.definition().get()).statements();
      if (statements.size() != 1 || !(statements.get(0) instanceof Select select)) {
        throw new UnreadableSqlException("its definition is no query");
      }
      state.roots().push(select);
      try {
        return read(
            select,
            position,
            new Named(alias, view.name(), columns),
            new Scope(Optional.empty(), false),
            BlockRole.DERIVED_TABLE);
      } finally {
        state.roots().pop();
      }
    } catch (UnreadableSqlException e) {
      throw new UnreadableSqlException("view " + view.name() + ": " + e.getMessage());
    } finally {
      state.views().pop();
    }
  }

  /** An item whose rows come from a block, or from something that no index serves. */
  JoinTree add(
      Optional<Integer> below,
      Identifier alias,
      Identifier name,
      RowShape shape,
      Set<Integer> before) {
    int use = state.nextUse();
    block.add(new DerivedUse(use, below, alias.text(), false, Set.of(), shape.names()));
    if (!before.isEmpty()) {
      block.follows(use, before);
    }
    block.scope().add(Scope.Item.of(use, alias, name, shape));
    return new JoinTree.Leaf(use);
  }
}
