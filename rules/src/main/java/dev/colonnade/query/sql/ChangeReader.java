package dev.colonnade.query.sql;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.JoinTree;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import net.sf.jsqlparser.expression.Expression;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.ParenthesedStatement;
import net.sf.jsqlparser.statement.ReturningClause;
import net.sf.jsqlparser.statement.delete.Delete;
import net.sf.jsqlparser.statement.delete.ParenthesedDelete;
import net.sf.jsqlparser.statement.insert.Insert;
import net.sf.jsqlparser.statement.insert.ParenthesedInsert;
import net.sf.jsqlparser.statement.merge.Merge;
import net.sf.jsqlparser.statement.merge.MergeDelete;
import net.sf.jsqlparser.statement.merge.MergeInsert;
import net.sf.jsqlparser.statement.merge.MergeOperation;
import net.sf.jsqlparser.statement.merge.MergeUpdate;
import net.sf.jsqlparser.statement.select.AllColumns;
import net.sf.jsqlparser.statement.select.FromItem;
import net.sf.jsqlparser.statement.select.Join;
import net.sf.jsqlparser.statement.select.OrderByElement;
import net.sf.jsqlparser.statement.select.Select;
import net.sf.jsqlparser.statement.select.SelectItem;
import net.sf.jsqlparser.statement.select.Values;
import net.sf.jsqlparser.statement.select.WithItem;
import net.sf.jsqlparser.statement.update.ParenthesedUpdate;
import net.sf.jsqlparser.statement.update.Update;
import net.sf.jsqlparser.statement.update.UpdateSet;
import net.sf.jsqlparser.statement.upsert.Upsert;

/** Reads statements that change rows: what they read to find the rows. */
final class ChangeReader {
  private final ReadingState state;
  private final Optional<Integer> parent;
  private final BlockRole role;
  private final Optional<Scope> around;

  private ChangeReader(
      ReadingState state, Optional<Integer> parent, BlockRole role, Optional<Scope> around) {
    this.state = state;
    this.parent = parent;
    this.role = role;
    this.around = around;
  }

  /** A reader of a statement that stands alone. */
  ChangeReader(ReadingState state) {
    this(state, Optional.empty(), BlockRole.MAIN, Optional.empty());
  }

  /**
   * A reader of a statement in a common table expression.
   *
   * @param parent the block that the expression belongs to
   * @param around the names that it sees
   */
  ChangeReader(ReadingState state, int parent, Scope around) {
    this(state, Optional.of(parent), BlockRole.COMMON_TABLE_EXPRESSION, Optional.of(around));
  }

  /**
   * A statement in a common table expression, which yields the rows of its RETURNING (PostgreSQL 18
   * manual, 7.8.4, "Data-Modifying Statements in WITH").
   */
  Optional<CommonTable> read(ParenthesedStatement statement) {
    if (statement instanceof ParenthesedInsert insert) {
      return Optional.of(insert(insert.getInsert()));
    }
    if (statement instanceof ParenthesedUpdate update) {
      return Optional.of(update(update.getUpdate()));
    }
    if (statement instanceof ParenthesedDelete delete) {
      return Optional.of(delete(delete.getDelete()));
    }
    return Optional.empty();
  }

  private BlockBuilder main(List<WithItem<?>> with) {
    int number = state.nextBlock();
    Scope frame = new Scope(around, around.isPresent());
    new QueryReader(state).readWith(with, number, frame);
    return new BlockBuilder(state, number, parent, role, new Scope(Optional.of(frame), true));
  }

  /** INSERT: its query, or the subqueries among its values. */
  CommonTable insert(Insert insert) {
    requireTable(insert.getTable());
    requireColumns(insert.getTable(), insert.getColumns());
    Select source = insert.getSelect();
    if (source != null && !(source instanceof Values)) {
      if (insert.getWithItemsList() != null && source.getWithItemsList() == null) {
        source.setWithItemsList(insert.getWithItemsList());
      }
      int query =
          new QueryReader(state).read(source, parent, role, around, around.isPresent()).block();
      return CommonTable.of(query, inserted(insert));
    }
    BlockBuilder block = main(insert.getWithItemsList());
    if (source instanceof Values values) {
      for (Expression row : values.getExpressions()) {
        if (row instanceof List<?> members) {
          members.forEach(member -> value(block, (Expression) member));
        } else {
          value(block, row);
        }
      }
    }
    if (insert.getSetUpdateSets() != null) {
      insert.getSetUpdateSets().forEach(set -> set.getValues().forEach(it -> value(block, it)));
    }
    block.finish();
    return CommonTable.of(block.number(), inserted(insert));
  }

  /** What RETURNING gives back of the rows that are inserted. */
  private RowShape inserted(Insert insert) {
    Optional<dev.colonnade.schema.Table> table =
        state.schema().table(QueryReader.written(insert.getTable()));
    List<Identifier> names = new ArrayList<>();
    for (SelectItem<?> item : returned(insert.getReturningClause())) {
      if (item.getExpression() instanceof AllColumns) {
        if (table.isEmpty()) {
          return RowShape.UNKNOWN;
        }
        table.get().columns().forEach(column -> names.add(column.name()));
      } else {
        names.add(SelectReader.writtenName(item).orElse(RowShape.NAMELESS));
      }
    }
    return new RowShape(names, true);
  }

  private static List<SelectItem<?>> returned(ReturningClause clause) {
    return clause == null ? List.of() : clause;
  }

  /** REPLACE and its relatives: an insert that removes what is in the way. */
  void upsert(Upsert upsert) {
    requireTable(upsert.getTable());
    Insert insert = new Insert();
    insert.setTable(upsert.getTable());
    insert.setColumns(upsert.getColumns());
    insert.setSelect(upsert.getSelect());
    insert(insert);
  }

  private static void value(BlockBuilder block, Expression value) {
    boolean isDefault =
        value instanceof Column column && column.getColumnName().equalsIgnoreCase("default");
    if (!isDefault) {
      block.projection().add(block.reader().expression(value));
    }
  }

  private void requireTable(Table table) {
    Identifier name = QueryReader.written(table);
    if (state.schema().table(name).isEmpty() && state.schema().view(name).isEmpty()) {
      throw new UnreadableSqlException("unknown table " + name);
    }
  }

  /**
   * Columns that get a value must exist, or stand for the address of the row. (PostgreSQL writes
   * the fields of a composite column with the column in front.)
   */
  private void requireColumns(Table table, List<Column> columns) {
    if (columns == null) {
      return;
    }
    state
        .schema()
        .table(QueryReader.written(table))
        .ifPresent(
            known ->
                columns.stream()
                    .filter(column -> !isField(known, column))
                    .map(column -> Identifier.of(column.getColumnName()))
                    .filter(name -> known.column(name).isEmpty())
                    .filter(name -> !state.names().isRowAddress(name))
                    .findFirst()
                    .ifPresent(
                        name -> {
                          throw new UnreadableSqlException("unknown column " + name);
                        }));
  }

  private static boolean isField(dev.colonnade.schema.Table table, Column column) {
    return column.getTable() != null
        && table.column(Identifier.of(column.getTable().getName())).isPresent();
  }

  /** UPDATE, with the joins and FROM items of any dialect. */
  CommonTable update(Update update) {
    BlockBuilder block = main(update.getWithItemsList());
    FromReader from = new FromReader(block);
    boolean targetInFrom =
        update.getFromItem() != null
            && names(update.getTable(), update.getFromItem(), update.getJoins());
    if (!targetInFrom) {
      block.join(from.tree(update.getTable(), update.getStartJoins()));
    }
    if (update.getFromItem() != null) {
      block.join(from.tree(update.getFromItem(), update.getJoins()));
    }
    Set<Integer> changed = new HashSet<>();
    for (UpdateSet set : update.getUpdateSets()) {
      set.getColumns().forEach(column -> changed.addAll(changedBy(block, column)));
      set.getValues().forEach(value -> setValue(block, value));
    }
    if (changed.isEmpty()) {
      target(block, update.getTable());
    }
    block.needWholeRow(changed);
    if (update.getWhere() != null) {
      WhereReader.read(block, update.getWhere());
    }
    RowShape shape = new SelectReader(block).returned(returned(update.getReturningClause()));
    end(block, update.getOrderByElements(), update.getLimit());
    return CommonTable.of(block.number(), shape);
  }

  private static void setValue(BlockBuilder block, Expression value) {
    boolean isDefault =
        value instanceof Column column && column.getColumnName().equalsIgnoreCase("default");
    if (!isDefault) {
      block.reader().expression(value);
    }
  }

  /**
   * A column that is set must exist; it is not read. Where several tables can be changed at once,
   * its qualifier says which one is.
   */
  private static Set<Integer> changedBy(BlockBuilder block, Column column) {
    Identifier name = Identifier.of(column.getColumnName());
    if (block.scope().items().stream()
        .noneMatch(item -> item.shape().has(name) || !item.shape().complete())) {
      throw new UnreadableSqlException("unknown column " + name);
    }
    return Optional.ofNullable(column.getTable())
        .flatMap(table -> block.scope().item(Identifier.of(table.getName())))
        .map(Scope.Item::uses)
        .orElse(Set.of());
  }

  /** DELETE, with the joins and USING items of any dialect. */
  CommonTable delete(Delete delete) {
    BlockBuilder block = main(delete.getWithItemsList());
    FromReader from = new FromReader(block);
    block.join(from.tree(delete.getTable(), delete.getJoins()));
    if (delete.getUsingFromItemList() != null) {
      delete.getUsingFromItemList().forEach(item -> block.join(from.tree(item, null)));
    }
    if (delete.getTables() == null || delete.getTables().isEmpty()) {
      target(block, delete.getTable());
    } else {
      delete.getTables().forEach(table -> target(block, table));
    }
    if (delete.getWhere() != null) {
      WhereReader.read(block, delete.getWhere());
    }
    RowShape shape = new SelectReader(block).returned(returned(delete.getReturningClause()));
    end(block, delete.getOrderByElements(), delete.getLimit());
    return CommonTable.of(block.number(), shape);
  }

  private void end(
      BlockBuilder block,
      List<OrderByElement> order,
      net.sf.jsqlparser.statement.select.Limit limit) {
    if (order != null) {
      new SelectReader(block).orderBy(order);
    }
    if (limit != null) {
      block.limit(Limits.of(limit, OptionalLong.of(0)));
    }
    Limits.rowNumberLimit(block);
    block.finish();
  }

  /** True when the changed table is named again in FROM, by its name or by its alias. */
  private static boolean names(Table target, FromItem first, List<Join> joins) {
    if (target.getAlias() != null) {
      return false;
    }
    return is(first, target)
        || (joins != null && joins.stream().anyMatch(join -> is(join.getFromItem(), target)));
  }

  private static boolean is(FromItem item, Table target) {
    Identifier name = Identifier.of(target.getName());
    boolean byAlias =
        item.getAlias() != null && Identifier.of(item.getAlias().getName()).equals(name);
    boolean byName =
        item.getAlias() == null
            && item instanceof Table table
            && Identifier.of(table.getName()).equals(name);
    return byAlias || byName;
  }

  private static void target(BlockBuilder block, Table target) {
    Identifier alias =
        Identifier.of(target.getAlias() == null ? target.getName() : target.getAlias().getName());
    Scope.Item item =
        block
            .scope()
            .item(alias)
            .orElseThrow(() -> new UnreadableSqlException("unknown table " + alias));
    block.needWholeRow(item.uses());
  }

  /**
   * MERGE: the source, joined with the target on the condition; where rows without match are
   * inserted, the target is the inner side of an outer join.
   */
  void merge(Merge merge) {
    BlockBuilder block = main(merge.getWithItemsList());
    FromReader from = new FromReader(block);
    JoinTree source = from.tree(merge.getFromItem(), null);
    JoinTree target = from.tree(merge.getTable(), null);
    target(block, merge.getTable());
    boolean inserts =
        merge.getOperations() == null
            || merge.getOperations().stream().anyMatch(MergeInsert.class::isInstance);
    block.join(
        new JoinTree.Join(
            inserts ? JoinTree.Kind.LEFT : JoinTree.Kind.INNER,
            source,
            target,
            dev.colonnade.predicate.Conditions.conjuncts(
                block.reader().predicate(merge.getOnCondition()))));
    if (merge.getOperations() != null) {
      merge
          .getOperations()
          .forEach(operation -> mergeOperation(block, merge.getTable(), operation));
    }
    block.finish();
  }

  private void mergeOperation(BlockBuilder block, Table target, MergeOperation operation) {
    if (operation instanceof MergeUpdate update) {
      update.getUpdateSets().forEach(set -> requireColumns(target, set.getColumns()));
      update.getUpdateSets().forEach(set -> set.getValues().forEach(it -> setValue(block, it)));
      optional(block, update.getAndPredicate());
      optional(block, update.getWhereCondition());
      optional(block, update.getDeleteWhereCondition());
    } else if (operation instanceof MergeInsert insert) {
      requireColumns(target, insert.getColumns());
      optional(block, insert.getAndPredicate());
      optional(block, insert.getWhereCondition());
      if (insert.getValues() != null) {
        insert.getValues().forEach(it -> setValue(block, it));
      }
    } else if (operation instanceof MergeDelete delete) {
      optional(block, delete.getAndPredicate());
    } else {
      throw new UnreadableSqlException("a MERGE of this form is not modelled");
    }
  }

  private static void optional(BlockBuilder block, Expression condition) {
    if (condition != null) {
      block.reader().predicate(condition);
    }
  }
}
