package dev.colonnade.query.sql;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.OpaqueExpression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.sql.UnreadableSqlException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The names that can be used in a block: the columns of its FROM items, then those of the blocks
 * around it; and the common table expressions.
 */
final class Scope {
  /**
   * A FROM item as seen by names.
   *
   * @param name the table's own name, for messages
   * @param uses the use, or those of a derived table that is read as part of this block
   * @param values what the columns of such a derived table mean; empty otherwise
   */
  record Item(
      Identifier alias,
      Identifier name,
      RowShape shape,
      Set<Integer> uses,
      Map<Identifier, Expression> values) {
    /** A FROM item of one use. */
    static Item of(int use, Identifier alias, Identifier name, RowShape shape) {
      return new Item(alias, name, shape, Set.of(use), Map.of());
    }

    /** The value behind a column's name. */
    Expression column(Identifier column) {
      Expression value = values.get(column);
      return value == null ? new ColumnRef(uses.iterator().next(), column) : value;
    }
  }

  private final Optional<Scope> parent;
  private final boolean parentItemsVisible;
  private final List<Item> items = new ArrayList<>();
  private final Map<Identifier, Expression> merged = new LinkedHashMap<>();
  private final Map<Identifier, Expression> selectAliases = new HashMap<>();
  private final Map<Identifier, CommonTable> commonTables = new HashMap<>();
  private final Set<ColumnRef> columns = new LinkedHashSet<>();
  private final Set<ColumnRef> outer = new LinkedHashSet<>();

  /**
   * A scope without names of its own.
   *
   * @param parent the scope around it
   * @param parentItemsVisible false for a derived table, which does not see its neighbours
   */
  Scope(Optional<Scope> parent, boolean parentItemsVisible) {
    this.parent = parent;
    this.parentItemsVisible = parentItemsVisible;
  }

  void add(Item item) {
    if (!item.alias().text().isEmpty() && item(item.alias()).isPresent()) {
      throw new UnreadableSqlException("two tables are called " + item.alias());
    }
    items.add(item);
  }

  List<Item> items() {
    return items;
  }

  /** Columns of this block that were asked for, here or in blocks below. */
  Set<ColumnRef> columns() {
    return columns;
  }

  /** Columns of blocks above that were asked for here or below. */
  Set<ColumnRef> outer() {
    return outer;
  }

  /** Makes the aliases of the select list usable, as in GROUP BY and ORDER BY. */
  void showAliases(Map<Identifier, Expression> aliases) {
    selectAliases.putAll(aliases);
  }

  Optional<Expression> alias(Identifier name) {
    return Optional.ofNullable(selectAliases.get(name));
  }

  /** Makes an unqualified name mean the joined column of USING or a natural join. */
  void merge(Identifier name, Expression value) {
    merged.put(name, value);
  }

  Map<Identifier, Expression> merged() {
    return merged;
  }

  /** The scope with the common table expressions that are known by now, and no later ones. */
  Scope now() {
    Scope copy = new Scope(parent, parentItemsVisible);
    copy.commonTables.putAll(commonTables);
    return copy;
  }

  /** Forgets columns that were asked for, all but these. */
  void forgetAllBut(Set<ColumnRef> kept) {
    columns.retainAll(kept);
  }

  void define(Identifier name, CommonTable table) {
    commonTables.put(name, table);
  }

  Optional<CommonTable> commonTable(Identifier name) {
    CommonTable own = commonTables.get(name);
    return own != null ? Optional.of(own) : parent.flatMap(around -> around.commonTable(name));
  }

  /** Takes note that a column of this block is needed. */
  void note(ColumnRef column) {
    columns.add(column);
  }

  /**
   * The meaning of a name, nearest scope first.
   *
   * @throws UnreadableSqlException when the name could be two columns, or a column that an alias
   *     does not have
   */
  Optional<Expression> find(Optional<Identifier> qualifier, Identifier name) {
    Optional<Expression> strict = find(qualifier, name, true);
    return strict.isPresent() ? strict : findLoose(qualifier, name, true);
  }

  private Optional<Expression> find(
      Optional<Identifier> qualifier, Identifier name, boolean itemsVisible) {
    if (itemsVisible) {
      Optional<Expression> own =
          qualifier.isPresent() ? qualified(qualifier.get(), name) : unqualified(name);
      if (own.isPresent()) {
        noteOwn(own.get());
        return own;
      }
    }
    return above(around -> around.find(qualifier, name, parentItemsVisible));
  }

  /** What an item of unknown columns may have. */
  private Optional<Expression> findLoose(
      Optional<Identifier> qualifier, Identifier name, boolean itemsVisible) {
    if (itemsVisible) {
      List<Item> open =
          items.stream()
              .filter(item -> !item.shape().complete())
              .filter(item -> qualifier.isEmpty() || qualifier.get().equals(item.alias()))
              .toList();
      if (!open.isEmpty()) {
        Expression own = anyOf(open, name);
        noteOwn(own);
        return Optional.of(own);
      }
    }
    return above(around -> around.findLoose(qualifier, name, parentItemsVisible));
  }

  /** The column of the one item that may have it, or a value of whichever of them does. */
  private static Expression anyOf(List<Item> open, Identifier name) {
    List<Expression> values = open.stream().map(item -> item.column(name)).toList();
    Set<ColumnRef> columns = new LinkedHashSet<>();
    values.forEach(value -> columns.addAll(value.columns()));
    return values.size() == 1 ? values.get(0) : new OpaqueExpression(name.text(), columns);
  }

  private Optional<Expression> above(
      java.util.function.Function<Scope, Optional<Expression>> search) {
    Optional<Expression> found = parent.flatMap(search);
    found.ifPresent(value -> outer.addAll(value.columns()));
    return found;
  }

  private void noteOwn(Expression value) {
    Set<Integer> uses = new HashSet<>();
    items.forEach(item -> uses.addAll(item.uses()));
    value.columns().stream().filter(column -> uses.contains(column.use())).forEach(columns::add);
    value.columns().stream().filter(column -> !uses.contains(column.use())).forEach(outer::add);
  }

  private Optional<Expression> qualified(Identifier qualifier, Identifier name) {
    Optional<Item> found =
        items.stream().filter(item -> item.alias().equals(qualifier)).findFirst();
    if (found.isEmpty() || !found.get().shape().complete()) {
      return Optional.empty();
    }
    if (!found.get().shape().has(name)) {
      throw new UnreadableSqlException("unknown column " + found.get().name() + "." + name);
    }
    return Optional.of(found.get().column(name));
  }

  private Optional<Expression> unqualified(Identifier name) {
    if (merged.containsKey(name)) {
      return Optional.of(merged.get(name));
    }
    List<Item> having = items.stream().filter(item -> item.shape().has(name)).toList();
    if (having.size() > 1) {
      throw new UnreadableSqlException("ambiguous column " + name);
    }
    return having.isEmpty() ? alias(name) : Optional.of(having.get(0).column(name));
  }

  /** The item of that alias in this block. */
  Optional<Item> item(Identifier alias) {
    return items.stream().filter(item -> item.alias().equals(alias)).findFirst();
  }

  /** True when an item of that alias can be seen from here. */
  boolean knows(Identifier alias) {
    return knows(alias, true);
  }

  private boolean knows(Identifier alias, boolean itemsVisible) {
    return (itemsVisible && item(alias).isPresent())
        || parent.map(around -> around.knows(alias, parentItemsVisible)).orElse(false);
  }
}
