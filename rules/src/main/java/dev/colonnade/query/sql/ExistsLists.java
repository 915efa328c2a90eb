package dev.colonnade.query.sql;

import dev.colonnade.dialect.JoinRules.ListOfExists;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.QueryBlock;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.statement.select.AllColumns;
import net.sf.jsqlparser.statement.select.AllTableColumns;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.SelectItem;

/**
 * What the select lists of EXISTS name. No row depends on it; where a database reads it all the
 * same, no index without those columns answers alone.
 */
final class ExistsLists {
  private ExistsLists() {}

  /**
   * The list of one EXISTS.
   *
   * @param columns those of its own FROM items
   * @param limited true where it has a row limit of its own
   */
  record SelectList(Set<ColumnRef> columns, boolean limited) {
    /** Copies the set. */
    SelectList {
      columns = Set.copyOf(columns);
    }
  }

  /** Reads a list; what it names that no FROM item is known to have is left out. */
  static SelectList of(PlainSelect select, Scope scope) {
    Set<ColumnRef> columns = new LinkedHashSet<>();
    for (SelectItem<?> item : select.getSelectItems()) {
      if (item.getExpression() instanceof AllTableColumns all) {
        Identifier alias = Identifier.of(all.getTable().getName());
        scope.item(alias).ifPresent(it -> star(it, columns));
      } else if (item.getExpression() instanceof AllColumns) {
        scope.items().forEach(it -> star(it, columns));
      } else {
        item.getExpression().accept(new Named(scope, columns), null);
      }
    }
    return new SelectList(columns, Limits.of(select).isPresent());
  }

  private static void star(Scope.Item item, Set<ColumnRef> columns) {
    item.shape().names().forEach(name -> columns.addAll(item.column(name).columns()));
  }

  /** Collects the columns that a value names. */
  private static final class Named extends ValueVisitor {
    private final Scope scope;
    private final Set<ColumnRef> columns;

    Named(Scope scope, Set<ColumnRef> columns) {
      this.scope = scope;
      this.columns = columns;
    }

    @Override
    public <S> Void visit(Column column, S unused) {
      Identifier name = Identifier.of(column.getColumnName());
      Optional<Identifier> qualifier =
          Optional.ofNullable(column.getTable()).map(it -> Identifier.of(it.getName()));
      scope.items().stream()
          .filter(it -> qualifier.isEmpty() || qualifier.get().equals(it.alias()))
          .filter(it -> it.shape().names().contains(name))
          .forEach(it -> columns.addAll(it.column(name).columns()));
      return null;
    }
  }

  /** The blocks, those of EXISTS with what is read of their lists. */
  static List<QueryBlock> read(
      List<QueryBlock> blocks, Map<Integer, SelectList> lists, ListOfExists rule) {
    return blocks.stream()
        .map(
            block -> {
              SelectList list = lists.get(block.number());
              return list == null || !isRead(list, block, blocks, rule)
                  ? block
                  : block.withColumns(list.columns());
            })
        .toList();
  }

  private static boolean isRead(
      SelectList list, QueryBlock block, List<QueryBlock> blocks, ListOfExists rule) {
    return switch (rule) {
      case NOT_READ -> false;
      case READ -> true;
      case READ_UNLESS_JOINED -> list.limited() || !isJoined(block, blocks);
    };
  }

  /** True for an EXISTS over one table that every row of the block around it must meet. */
  private static boolean isJoined(QueryBlock block, List<QueryBlock> blocks) {
    boolean asked =
        block.parent().stream()
            .flatMap(up -> blocks.stream().filter(it -> it.number() == up))
            .flatMap(it -> it.conjuncts().stream())
            .anyMatch(
                it -> it.predicate() instanceof Exists exists && exists.block() == block.number());
    boolean united =
        blocks.stream()
            .anyMatch(
                it ->
                    it.role() == BlockRole.SET_OPERAND
                        && it.parent().equals(Optional.of(block.number())));
    return asked
        && !united
        && block.from().size() == 1
        && block.from().get(0) instanceof TableUse
        && block.groupBy().isEmpty()
        && block.aggregates().isEmpty();
  }
}
