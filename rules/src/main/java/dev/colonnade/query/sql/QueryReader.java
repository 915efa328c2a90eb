package dev.colonnade.query.sql;

import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.BlockRole;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.expression.Alias;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.expression.operators.relational.ExpressionList;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.ParenthesedStatement;
import net.sf.jsqlparser.statement.select.ParenthesedSelect;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.SetOperationList;
import net.sf.jsqlparser.statement.select.Values;
import net.sf.jsqlparser.statement.select.WithItem;

/** Reads queries: WITH, set operations, and through {@link SelectReader} single SELECTs. */
final class QueryReader {
  private final ReadingState state;

  QueryReader(ReadingState state) {
    this.state = state;
  }

  /**
   * A query that was read.
   *
   * @param block its block, the first one of a set operation
   * @param shape the columns that it yields
   * @param outer columns of enclosing blocks that it reads
   */
  record Result(int block, RowShape shape, Set<ColumnRef> outer) {}

  /** Where a query stands. */
  private record Place(int number, Optional<Integer> parent, BlockRole role, Scope around) {}

  /**
   * Reads a query.
   *
   * @param parent the enclosing block
   * @param around the scope around it
   * @param seesAround false for a derived table, which does not see its neighbours in FROM
   */
  Result read(
      Select select,
      Optional<Integer> parent,
      BlockRole role,
      Optional<Scope> around,
      boolean seesAround) {
    return read(select, parent, role, new Scope(around, seesAround));
  }

  /**
   * Reads a query in FROM.
   *
   * @param parent the block whose FROM it is
   * @param frame the names that it sees, which it may add to
   */
  Result read(Select select, int parent, BlockRole role, Scope frame) {
    return read(select, Optional.of(parent), role, frame);
  }

  private Result read(Select select, Optional<Integer> parent, BlockRole role, Scope frame) {
    int number = state.nextBlock();
    readWith(select.getWithItemsList(), number, frame);
    RowShape shape = body(select, new Place(number, parent, role, frame), Optional.empty());
    return new Result(number, shape, new LinkedHashSet<>(frame.outer()));
  }

  /** Reads the common table expressions in front of a statement. */
  void readWith(List<WithItem<?>> items, int number, Scope frame) {
    if (items != null) {
      items.forEach(item -> commonTable(item, number, frame));
    }
  }

  private void commonTable(WithItem<?> item, int parent, Scope frame) {
    ParenthesedStatement statement = item.getParenthesedStatement();
    Identifier name = Identifier.of(item.getAliasName());
    List<Identifier> aliases = columnNames(item);
    if (!(statement instanceof ParenthesedSelect wrapper)) {
      CommonTable changed =
          new ChangeReader(state, parent, frame)
              .read(statement)
              .orElseThrow(
                  () ->
                      new UnreadableSqlException(
                          "the common table expression "
                              + item.getUnquotedAliasName()
                              + " is no query"));
      changed.shapeIs(changed.shape().renamed(aliases));
      frame.define(name, changed);
      return;
    }
    Select written = unwrapped(wrapper);
    if (DerivedReader.isReadWhereNamed(item, written, state)) {
      frame.define(name, CommonTable.of(new CommonTable.Deferred(wrapper, frame.now(), aliases)));
      return;
    }
    int number = state.nextBlock();
    CommonTable table =
        CommonTable.of(number, aliases.isEmpty() ? RowShape.UNKNOWN : new RowShape(aliases, true));
    Select body = unwrapped(wrapper);
    Scope own = new Scope(Optional.of(frame), true);
    boolean readsItself =
        item.isRecursive()
            || (body instanceof SetOperationList && state.schema().table(name).isEmpty());
    if (readsItself) {
      own.define(name, table);
    }
    Scope inner = new Scope(Optional.of(own), true);
    readWith(wrapper.getWithItemsList(), number, inner);
    readWith(body == wrapper ? null : body.getWithItemsList(), number, inner);
    Place place = new Place(number, Optional.of(parent), BlockRole.COMMON_TABLE_EXPRESSION, inner);
    RowShape shape = body(body, place, Optional.of(new SelfReference(table, aliases)));
    table.shapeIs(shape.renamed(aliases));
    frame.define(name, table);
  }

  /** A common table expression that learns its columns once its first operand is read. */
  private record SelfReference(CommonTable table, List<Identifier> aliases) {}

  private static List<Identifier> columnNames(WithItem<?> item) {
    if (item.getWithItemList() != null) {
      return item.getWithItemList().stream()
          .map(column -> Identifier.of(column.getExpression().toString()))
          .toList();
    }
    return columnNames(item.getAlias());
  }

  /** A table's name with the schema in front of it, where one is written. */
  static Identifier written(Table table) {
    return Identifier.in(
        Optional.ofNullable(table.getSchemaName()).map(Identifier::of),
        Identifier.of(table.getName()));
  }

  /** The column names of an alias such as {@code v(a, b)}. */
  static List<Identifier> columnNames(Alias alias) {
    return alias == null || alias.getAliasColumns() == null
        ? List.of()
        : alias.getAliasColumns().stream().map(column -> Identifier.of(column.name)).toList();
  }

  /** The query inside parentheses that add nothing to it. */
  static Select unwrapped(ParenthesedSelect wrapper) {
    boolean bare =
        wrapper.getOrderByElements() == null
            && wrapper.getLimit() == null
            && wrapper.getFetch() == null
            && wrapper.getOffset() == null;
    if (!bare || wrapper.getSelect() == null) {
      return wrapper;
    }
    return wrapper.getSelect() instanceof ParenthesedSelect inner
            && inner.getWithItemsList() == null
        ? unwrapped(inner)
        : wrapper.getSelect();
  }

  private RowShape body(Select select, Place place, Optional<SelfReference> self) {
    if (select instanceof ParenthesedSelect wrapper) {
      return parenthesed(wrapper, place, self);
    }
    if (select instanceof SetOperationList operation) {
      return operation(operation, place, self);
    }
    if (select instanceof PlainSelect plain) {
      return new SelectReader(builder(place)).read(plain, place.role() != BlockRole.EXISTS);
    }
    if (select instanceof Values values) {
      return values(values, place);
    }
    throw new UnreadableSqlException(
        "a query of this form is not modelled: " + state.placeholder(select.toString()));
  }

  private BlockBuilder builder(Place place) {
    return new BlockBuilder(
        state,
        place.number(),
        place.parent(),
        place.role(),
        new Scope(Optional.of(place.around()), true));
  }

  /** An order or limit behind the parentheses is that of the query inside where it has none. */
  private RowShape parenthesed(
      ParenthesedSelect wrapper, Place place, Optional<SelfReference> self) {
    Select inner = wrapper.getSelect();
    if (inner == null) {
      throw new UnreadableSqlException("empty parentheses");
    }
    if (inner instanceof PlainSelect plain
        && plain.getOrderByElements() == null
        && plain.getLimit() == null
        && plain.getFetch() == null
        && plain.getTop() == null) {
      plain.setOrderByElements(wrapper.getOrderByElements());
      plain.setLimit(wrapper.getLimit());
      plain.setOffset(wrapper.getOffset());
      plain.setFetch(wrapper.getFetch());
    }
    Scope frame = new Scope(Optional.of(place.around()), true);
    readWith(inner.getWithItemsList(), place.number(), frame);
    return body(inner, new Place(place.number(), place.parent(), place.role(), frame), self);
  }

  private RowShape operation(
      SetOperationList operation, Place place, Optional<SelfReference> self) {
    RowShape first = null;
    if (Limits.ofQuery(operation).isPresent()) {
      // What is asked of its rows cannot be asked of those of its operands.
      state.window(place.number(), Set.of());
    }
    for (Select operand : operation.getSelects()) {
      boolean isFirst = first == null;
      Place at =
          isFirst
              ? place
              : new Place(
                  state.nextBlock(),
                  Optional.of(place.number()),
                  BlockRole.SET_OPERAND,
                  place.around());
      RowShape shape = body(operand, at, self);
      if (isFirst) {
        first = shape;
        RowShape known = shape;
        self.ifPresent(it -> it.table().shapeIs(known.renamed(it.aliases())));
      }
    }
    return first == null ? RowShape.UNKNOWN : first;
  }

  private RowShape values(Values values, Place place) {
    BlockBuilder block = builder(place);
    int width = 1;
    for (Expression row : values.getExpressions()) {
      if (row instanceof ExpressionList<?> list) {
        width = list.size();
        block.projection().addAll(block.reader().expressions(list));
      } else {
        block.projection().add(block.reader().expression(row));
      }
    }
    block.finish();
    List<Identifier> names = new ArrayList<>();
    for (int i = 1; i <= width; i++) {
      names.add(Identifier.of("column" + i));
    }
    return new RowShape(names, false);
  }
}
