package dev.colonnade.query.jpql;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.hibernate.grammars.hql.HqlParser;

/** Translates select lists: an entity is all its columns, in a subquery its identifier. */
final class SelectList {
  private final Block block;
  private final boolean whole;
  private final Optional<Map<String, List<String>>> named;
  private final List<String> items = new ArrayList<>();
  private final List<Value.Reference> loaded = new ArrayList<>();
  private boolean distinct;

  /**
   * A list.
   *
   * @param whole true where entities are loaded, false where they are only told apart
   * @param named where each column must have a name: takes the names
   */
  SelectList(Block block, boolean whole, Optional<Map<String, List<String>>> named) {
    this.block = block;
    this.whole = whole;
    this.named = named;
  }

  void read(HqlParser.SelectClauseContext select) {
    if (select == null) {
      for (Source root : block.scope.roots) {
        add(root, block.paths.value(new Node.AtSource(root)), Optional.empty());
      }
    } else {
      distinct = select.DISTINCT() != null;
      for (HqlParser.SelectionContext selection : select.selectionList().selection()) {
        read(selection.selectExpression(), Sources.variable(selection.variable()));
      }
    }
    if (whole) {
      for (Source fetched : block.scope.fetched) {
        add(fetched, block.paths.value(new Node.AtSource(fetched)), Optional.empty());
      }
    }
  }

  private void read(HqlParser.SelectExpressionContext item, Optional<String> alias) {
    if (item.instantiation() != null) {
      item.instantiation().instantiationArguments().instantiationArgument().forEach(this::read);
    } else if (item.jpaSelectObjectSyntax() != null) {
      String name = Block.name(item.jpaSelectObjectSyntax().identifier());
      add(item, block.paths.value(block.node(item, List.of(name))), alias);
    } else if (item.mapEntrySelection() != null) {
      HqlParser.PathContext map = item.mapEntrySelection().path();
      add(item, block.paths.value(block.keyOrIndex(map, block.node(map))), Optional.empty());
      add(item, block.paths.value(block.node(map)), Optional.empty());
    } else {
      add(item, value(item.expressionOrPredicate()), alias);
    }
  }

  private void read(HqlParser.InstantiationArgumentContext argument) {
    HqlParser.InstantiationArgumentExpressionContext expression =
        argument.instantiationArgumentExpression();
    if (expression.instantiation() != null) {
      expression
          .instantiation()
          .instantiationArguments()
          .instantiationArgument()
          .forEach(this::read);
    } else {
      add(
          expression,
          value(expression.expressionOrPredicate()),
          Sources.variable(argument.variable()));
    }
  }

  private Value value(HqlParser.ExpressionOrPredicateContext part) {
    return block.expressions.value(part);
  }

  private void add(Object place, Value value, Optional<String> alias) {
    List<String> columns;
    if (value instanceof Value.Reference reference && whole) {
      loaded.add(reference);
      columns = reference.use().get().allColumns();
    } else if (place instanceof org.antlr.v4.runtime.ParserRuleContext part) {
      columns = Block.placed(part, () -> block.comparisons.columns(value, Value.Columns.of("")));
    } else {
      columns = block.comparisons.columns(value, Value.Columns.of(""));
    }
    if (named.isPresent()) {
      name(columns, alias, named.get());
      return;
    }
    items.addAll(columns);
    if (columns.size() == 1) {
      alias.ifPresent(it -> block.scope.selected.put(it.toLowerCase(Locale.ROOT), columns.get(0)));
    }
  }

  private void name(List<String> columns, Optional<String> alias, Map<String, List<String>> names) {
    String base = alias.orElse("c" + (names.size() + 1));
    List<String> own = new ArrayList<>();
    for (int i = 0; i < columns.size(); i++) {
      String name = columns.size() == 1 ? base : base + "_" + (i + 1);
      String written = SqlNames.isReserved(name) ? name + "_" : name;
      own.add(written);
      items.add(columns.get(i) + " as " + written);
    }
    names.put(base, own);
  }

  /** The items, one for each column. */
  List<String> items() {
    return List.copyOf(items);
  }

  /** True where the entity's columns are in the list. */
  boolean loads(Value.Reference reference) {
    Map<EntityUse, Boolean> uses = new LinkedHashMap<>();
    loaded.forEach(it -> uses.put(it.use().get(), true));
    return !loaded.isEmpty()
        && loaded.stream().anyMatch(it -> it.key().equals(reference.key()))
        && uses.containsKey(reference.use().get());
  }

  /** What counts the rows: the identifier of the first entity, distinct where the list is. */
  String count() {
    List<String> columns = new ArrayList<>(new LinkedHashSet<>(items));
    if (distinct) {
      return "count(distinct " + Comparisons.tuple(columns) + ")";
    }
    boolean single =
        block.scope.roots.get(0) instanceof EntityUse use && use.entity.idColumns().size() == 1;
    return single
        ? "count(" + ((EntityUse) block.scope.roots.get(0)).key().get(0) + ")"
        : "count(*)";
  }

  String render() {
    List<String> columns = named.isPresent() ? items : new ArrayList<>(new LinkedHashSet<>(items));
    return (distinct ? "distinct " : "") + (columns.isEmpty() ? "1" : String.join(", ", columns));
  }
}
