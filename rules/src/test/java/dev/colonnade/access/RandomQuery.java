package dev.colonnade.access;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.ComparisonOperator;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.InList;
import dev.colonnade.predicate.Predicate.NullTest;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.OrderItem;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.StatementKind;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;

/**
 * A random table of small integers with random indexes, and a random query over it; from a seed,
 * always the same.
 */
record RandomQuery(
    Table table, List<Predicate> conjuncts, List<OrderItem> order, List<Identifier> projection) {
  /** Values of every column lie between 0 and this, so that conditions meet. */
  static final int DOMAIN = 5;

  private static final int USE = 1;
  private static final List<String> NAMES = List.of("a", "b", "c", "d");

  static RandomQuery from(Random random) {
    List<Column> columns = new ArrayList<>();
    for (String name : NAMES) {
      columns.add(Column.of(name, ColumnType.of("int", TypeFamily.INTEGER), random.nextInt(3) > 0));
    }
    List<Index> indexes = new ArrayList<>();
    int count = 1 + random.nextInt(3);
    for (int i = 0; i < count; i++) {
      indexes.add(index("ix" + i, random));
    }
    Table table =
        new Table(
            Identifier.of("t"),
            Optional.empty(),
            columns,
            List.of(),
            List.of(),
            indexes,
            SourceLocation.of("changelog.xml", 1));
    List<Predicate> conjuncts = new ArrayList<>();
    int conditions = random.nextInt(5);
    for (int i = 0; i < conditions; i++) {
      conjuncts.add(condition(random, 1));
    }
    List<OrderItem> order = new ArrayList<>();
    for (String name : shuffled(random).subList(0, random.nextInt(3))) {
      order.add(new OrderItem(column(name), random.nextBoolean(), NullOrder.DEFAULT));
    }
    List<Identifier> projection =
        shuffled(random).subList(0, random.nextInt(4)).stream().map(Identifier::of).toList();
    return new RandomQuery(table, conjuncts, order, projection);
  }

  static Index index(String name, Random random) {
    List<KeyColumn> key = new ArrayList<>();
    for (String column : shuffled(random).subList(0, 1 + random.nextInt(3))) {
      key.add(random.nextInt(4) == 0 ? KeyColumn.descending(column) : KeyColumn.ascending(column));
    }
    return Index.of(name, "t", false, key, SourceLocation.of("changelog.xml", 1));
  }

  private static List<String> shuffled(Random random) {
    List<String> names = new ArrayList<>(NAMES);
    Collections.shuffle(names, random);
    return names;
  }

  static ColumnRef column(String name) {
    return new ColumnRef(USE, Identifier.of(name));
  }

  private static Expression value(Random random) {
    return new Literal(String.valueOf(random.nextInt(DOMAIN)), LiteralKind.NUMBER);
  }

  private static Predicate condition(Random random, int depth) {
    ColumnRef column = column(NAMES.get(random.nextInt(NAMES.size())));
    return switch (random.nextInt(depth > 0 ? 9 : 8)) {
      case 0, 1, 2 -> new Comparison(column, ComparisonOperator.EQUAL, value(random));
      case 3 -> new Comparison(column, ComparisonOperator.LESS, value(random));
      case 4 -> new Comparison(column, ComparisonOperator.GREATER_OR_EQUAL, value(random));
      case 5 -> new InList(column, List.of(value(random), value(random)), false);
      case 6 -> new NullTest(column, random.nextBoolean());
      case 7 -> new Comparison(column, ComparisonOperator.NOT_EQUAL, value(random));
      default -> new Or(List.of(condition(random, 0), condition(random, 0)));
    };
  }

  Schema schema() {
    return new Schema(List.of(table), List.of());
  }

  Query query() {
    List<Conjunct> normalized = new ArrayList<>();
    Set<ColumnRef> columns = new LinkedHashSet<>();
    for (Predicate condition : conjuncts) {
      for (Predicate conjunct : Conditions.conjuncts(condition)) {
        normalized.add(new Conjunct(conjunct, Set.of(USE)));
        columns.addAll(conjunct.columns());
      }
    }
    List<Expression> selected = new ArrayList<>();
    for (Identifier name : projection) {
      selected.add(new ColumnRef(USE, name));
      columns.add(new ColumnRef(USE, name));
    }
    order.forEach(item -> columns.addAll(item.expression().columns()));
    QueryBlock block =
        new QueryBlock(
            1,
            Optional.empty(),
            BlockRole.MAIN,
            List.of(TableUse.of(USE, "t", "t")),
            normalized,
            selected,
            List.of(),
            List.of(),
            false,
            order,
            Optional.empty(),
            columns);
    QueryText text =
        new QueryText(
            "q", SourceLocation.of("q.sql", 1), QuerySource.FILE, "generated", "generated");
    return new Query(text, StatementKind.SELECT, List.of(block));
  }

  RandomQuery withTable(Table changed) {
    return new RandomQuery(changed, conjuncts, order, projection);
  }

  RandomQuery withConjuncts(List<Predicate> changed) {
    return new RandomQuery(table, changed, order, projection);
  }
}
