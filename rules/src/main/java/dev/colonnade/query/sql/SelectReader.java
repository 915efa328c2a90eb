package dev.colonnade.query.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import net.sf.jsqlparser.expression.AnalyticExpression;
import net.sf.jsqlparser.expression.Function;
import net.sf.jsqlparser.expression.LongValue;
import net.sf.jsqlparser.expression.WindowDefinition;
import net.sf.jsqlparser.schema.Column;
import net.sf.jsqlparser.schema.Table;
import net.sf.jsqlparser.statement.select.AllColumns;
import net.sf.jsqlparser.statement.select.AllTableColumns;
import net.sf.jsqlparser.statement.select.ForMode;
import net.sf.jsqlparser.statement.select.GroupByElement;
import net.sf.jsqlparser.statement.select.OrderByElement;
import net.sf.jsqlparser.statement.select.PlainSelect;
import net.sf.jsqlparser.statement.select.SelectItem;

/** Reads one SELECT, FROM first and then clause by clause, into one block. */
final class SelectReader {
  private static final Pattern VERSION = Pattern.compile("(?i)\\b(?:old|new)\\s*\\.");

  private final BlockBuilder block;
  private final List<Identifier> names = new ArrayList<>();
  private final Map<Identifier, Set<Expression>> outputs = new HashMap<>();
  private boolean complete = true;

  SelectReader(BlockBuilder block) {
    this.block = block;
  }

  /**
   * Reads and finishes the block.
   *
   * @param withProjection false under EXISTS, whose select list yields nothing
   */
  RowShape read(PlainSelect select, boolean withProjection) {
    rejectUnmodelled(select);
    if (withProjection) {
      readDistinct(select);
    }
    new FromReader(block).read(select.getFromItem(), select.getJoins());
    Map<Identifier, Expression> aliases = new HashMap<>();
    if (withProjection) {
      select.getSelectItems().forEach(item -> selectItem(item, aliases));
    } else {
      block.state().listOfExists(block.number(), ExistsLists.of(select, block.scope()));
    }
    if (block.state().names().aliasesInWhere()) {
      block.scope().showAliases(aliases);
    }
    if (select.getWhere() != null) {
      WhereReader.read(block, select.getWhere());
    }
    block.scope().showAliases(aliases);
    groupBy(select.getGroupBy());
    having(select);
    if (select.getQualify() != null) {
      block.reader().predicate(select.getQualify());
    }
    windows(select);
    if (withProjection) {
      distinctOn(select);
      orderBy(select.getOrderByElements());
      block.limit(Limits.of(select));
    }
    Limits.rowNumberLimit(block);
    lock(select);
    block.finish();
    return new RowShape(names, complete);
  }

  /**
   * Reads a derived table that becomes part of the block around it: what its columns mean counts as
   * read only where it is asked for.
   *
   * @return its columns, whose values are the projection
   */
  RowShape readAsPart(PlainSelect select) {
    new FromReader(block).read(select.getFromItem(), select.getJoins());
    Set<ColumnRef> before = new LinkedHashSet<>(block.scope().columns());
    Map<Identifier, Expression> aliases = new HashMap<>();
    select.getSelectItems().forEach(item -> selectItem(item, aliases));
    block.scope().forgetAllBut(before);
    if (block.state().names().aliasesInWhere()) {
      block.scope().showAliases(aliases);
    }
    if (select.getWhere() != null) {
      WhereReader.read(block, select.getWhere());
    }
    return new RowShape(names, complete);
  }

  private static void rejectUnmodelled(PlainSelect select) {
    if (select.getOracleHierarchical() != null) {
      throw new UnreadableSqlException("CONNECT BY is not modelled");
    }
    if (select.getLateralViews() != null && !select.getLateralViews().isEmpty()) {
      throw new UnreadableSqlException("LATERAL VIEW is not modelled");
    }
  }

  private void readDistinct(PlainSelect select) {
    if (select.getDistinct() != null && !isDistinctOn(select)) {
      block.distinct();
    }
  }

  private static boolean isDistinctOn(PlainSelect select) {
    return select.getDistinct() != null
        && select.getDistinct().getOnSelectItems() != null
        && !select.getDistinct().getOnSelectItems().isEmpty();
  }

  /**
   * DISTINCT ON keeps the first row of each group in the order of ORDER BY, which must start with
   * the same terms (PostgreSQL 18 manual, SELECT, "DISTINCT Clause"): without ORDER BY, the order
   * is asked for here.
   */
  private void distinctOn(PlainSelect select) {
    if (isDistinctOn(select)) {
      Set<Expression> terms = new HashSet<>();
      for (SelectItem<?> item : select.getDistinct().getOnSelectItems()) {
        Expression term = outputOrValue(item.getExpression(), true);
        terms.add(term);
        if (select.getOrderByElements() == null) {
          block.orderBy().add(new OrderItem(term, false, NullOrder.DEFAULT));
        }
      }
      block.window(terms);
    }
  }

  /** Named windows are read for their columns. */
  private void windows(PlainSelect select) {
    if (select.getWindowDefinitions() == null) {
      return;
    }
    for (WindowDefinition window : select.getWindowDefinitions()) {
      if (window.getPartitionExpressionList() != null) {
        for (Object term : window.getPartitionExpressionList()) {
          block.reader().expression((net.sf.jsqlparser.expression.Expression) term);
        }
      }
      if (window.getOrderByElements() != null) {
        window.getOrderByElements().forEach(it -> block.reader().expression(it.getExpression()));
      }
    }
  }

  private void selectItem(SelectItem<?> item, Map<Identifier, Expression> aliases) {
    if (item.getExpression() instanceof AllTableColumns all) {
      star(Optional.of(all.getTable()));
    } else if (item.getExpression() instanceof AllColumns all) {
      if (all.getExceptColumns() != null || all.getReplaceExpressions() != null) {
        throw new UnreadableSqlException("a star with exceptions is not modelled");
      }
      star(Optional.empty());
    } else {
      Expression value = block.reader().expression(item.getExpression());
      Windows.of(item.getExpression()).forEach(this::window);
      block.projection().add(value);
      Identifier name = name(item, value);
      names.add(name);
      if (item.getAlias() != null) {
        aliases.putIfAbsent(name, value);
      }
      outputs.computeIfAbsent(name, unseen -> new LinkedHashSet<>()).add(value);
    }
  }

  private void window(AnalyticExpression window) {
    Set<Expression> partition = new HashSet<>();
    if (window.getPartitionExpressionList() != null) {
      window
          .getPartitionExpressionList()
          .forEach(term -> partition.add(block.reader().expression(term)));
    }
    block.window(partition);
  }

  private static Identifier name(SelectItem<?> item, Expression value) {
    return writtenName(item)
        .orElse(value instanceof ColumnRef column ? column.column() : RowShape.NAMELESS);
  }

  /** What an item is called by its alias, or by the column or function that it is. */
  static Optional<Identifier> writtenName(SelectItem<?> item) {
    if (item.getAlias() != null) {
      return Optional.of(Identifier.of(item.getAlias().getName()));
    }
    if (item.getExpression() instanceof Column column) {
      return Optional.of(Identifier.of(column.getColumnName()));
    }
    return item.getExpression() instanceof Function function
        ? Optional.of(Identifier.of(function.getName()))
        : Optional.empty();
  }

  /**
   * Reads what a change of rows gives back. Its values are no projection: nothing can be asked of
   * them before the change.
   */
  RowShape returned(List<SelectItem<?>> items) {
    for (SelectItem<?> item : items) {
      if (namesVersion(item)) {
        names.add(writtenName(item).orElse(RowShape.NAMELESS));
      } else {
        selectItem(item, new HashMap<>());
      }
    }
    block.projection().clear();
    return new RowShape(names, complete);
  }

  /**
   * Whether an item speaks of the row before or after the change (PostgreSQL 18 manual, 6.4,
   * "Returning Data from Modified Rows"), which is read as a whole anyway.
   */
  private boolean namesVersion(SelectItem<?> item) {
    return VERSION.matcher(item.toString()).find()
        && !block.scope().knows(Identifier.of("old"))
        && !block.scope().knows(Identifier.of("new"));
  }

  /** Expands {@code *} or {@code t.*}; columns joined by USING come first and once. */
  private void star(Optional<Table> of) {
    Scope scope = block.scope();
    List<Scope.Item> items = scope.items();
    Set<Identifier> once = new HashSet<>();
    if (of.isPresent()) {
      Identifier alias = Identifier.of(of.get().getName());
      items =
          List.of(
              scope
                  .item(alias)
                  .orElseThrow(
                      () -> new UnreadableSqlException("unknown table or alias " + alias)));
    } else {
      for (Map.Entry<Identifier, Expression> column : scope.merged().entrySet()) {
        once.add(column.getKey());
        project(column.getKey(), column.getValue());
      }
    }
    for (Scope.Item item : items) {
      complete &= item.shape().complete();
      for (Identifier name : item.shape().names()) {
        if (!once.contains(name)) {
          project(name, item.column(name));
        }
      }
    }
  }

  private void project(Identifier name, Expression value) {
    value.columns().forEach(block.scope()::note);
    block.projection().add(value);
    names.add(name);
    outputs.computeIfAbsent(name, unseen -> new LinkedHashSet<>()).add(value);
  }

  private void groupBy(GroupByElement element) {
    if (element == null) {
      return;
    }
    if (element.getGroupByExpressionList() != null) {
      for (Object term : element.getGroupByExpressionList()) {
        block.groupBy().add(outputOrValue((net.sf.jsqlparser.expression.Expression) term, false));
      }
    }
    if (hasSets(element)) {
      Set<ColumnRef> columns = new LinkedHashSet<>();
      block.groupBy().forEach(term -> columns.addAll(term.columns()));
      for (Object set : element.getGroupingSets() == null ? List.of() : element.getGroupingSets()) {
        columns.addAll(
            block.reader().expression((net.sf.jsqlparser.expression.Expression) set).columns());
      }
      block.groupBy().clear();
      String text = block.placeholder(element.toString()).replaceFirst("(?i)^group by ", "");
      block.groupBy().add(new OpaqueExpression(text, columns));
    }
  }

  /** True for ROLLUP, CUBE and GROUPING SETS: groups of several kinds, which no order serves. */
  private static boolean hasSets(GroupByElement element) {
    return (element.getGroupingSets() != null && !element.getGroupingSets().isEmpty())
        || element.toString().toLowerCase(Locale.ROOT).matches("(?s).*\\b(rollup|cube)\\b.*");
  }

  /** A term of ORDER BY or GROUP BY: the number or the name of an output column, or a value. */
  private Expression outputOrValue(
      net.sf.jsqlparser.expression.Expression term, boolean outputFirst) {
    if (term instanceof LongValue ordinal) {
      long position = Limits.number(ordinal).orElse(0);
      if (position >= 1 && position <= block.projection().size()) {
        return block.projection().get((int) position - 1);
      }
    }
    if (outputFirst && term instanceof Column column && column.getTable() == null) {
      Identifier name = Identifier.of(column.getColumnName());
      Optional<Expression> alias = block.scope().alias(name);
      if (alias.isPresent()) {
        return alias.get();
      }
      Set<Expression> named = outputs.getOrDefault(name, Set.of());
      if (named.size() == 1) {
        return named.iterator().next();
      }
    }
    return block.reader().expression(term);
  }

  /**
   * HAVING filters groups. What it says of grouping columns alone holds for every row of the group
   * and so restricts the reading as well.
   */
  private void having(PlainSelect select) {
    if (select.getHaving() == null) {
      return;
    }
    Set<Expression> grouping = new HashSet<>(block.groupBy());
    for (net.sf.jsqlparser.expression.Expression part : WhereReader.parts(select.getHaving())) {
      int before = block.aggregateCalls();
      Predicate condition = block.reader().predicate(part);
      boolean ofGroupingColumns =
          block.aggregateCalls() == before
              && !condition.columns().isEmpty()
              && grouping.containsAll(condition.columns());
      if (ofGroupingColumns) {
        block.where(condition);
      }
    }
  }

  /** Reads ORDER BY. */
  void orderBy(List<OrderByElement> elements) {
    if (elements == null) {
      return;
    }
    for (OrderByElement element : elements) {
      NullOrder nulls =
          element.getNullOrdering() == null
              ? NullOrder.DEFAULT
              : switch (element.getNullOrdering()) {
                case NULLS_FIRST -> NullOrder.FIRST;
                case NULLS_LAST -> NullOrder.LAST;
              };
      block
          .orderBy()
          .add(
              new OrderItem(outputOrValue(element.getExpression(), true), !element.isAsc(), nulls));
    }
  }

  private void lock(PlainSelect select) {
    if (select.getForMode() == null
        || select.getForMode() == ForMode.FETCH_ONLY
        || select.getForMode() == ForMode.READ_ONLY) {
      return;
    }
    List<Table> named = select.getForUpdateTables();
    if (named == null || named.isEmpty()) {
      block.needWholeRow(block.tableUses());
      return;
    }
    for (Table table : named) {
      Optional<Scope.Item> item = block.scope().item(Identifier.of(table.getName()));
      if (item.isEmpty() && table.getSchemaName() != null) {
        // Oracle names a column of the table.
        item = block.scope().item(Identifier.of(table.getSchemaName()));
      }
      item.ifPresent(it -> block.needWholeRow(it.uses()));
    }
  }
}
