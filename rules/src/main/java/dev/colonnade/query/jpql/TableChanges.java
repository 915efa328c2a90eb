package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.JoinedTable;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.SoftDelete;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.jpql.FromClause.Root;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hibernate.grammars.hql.HqlParser;

/**
 * Translates UPDATE and DELETE of entities whose rows lie in several tables: one statement for each
 * table that changes, its rows found by the identifiers that the condition selects (Hibernate ORM
 * user guide, "HQL and JPQL update and delete": multi-table changes work on a list of identifiers).
 */
final class TableChanges {
  private final Statement statement;
  private final Entity entity;
  private final String name;

  /**
   * Changes of one entity.
   *
   * @param name what stands for it in the query
   */
  TableChanges(Statement statement, Entity entity, String name) {
    this.statement = statement;
    this.entity = entity;
    this.name = name;
  }

  /** True where rows of the entity lie in more than its own table. */
  static boolean isSpread(Statement statement, Entity entity) {
    boolean inTables =
        switch (entity.inheritance()) {
          case NONE, SINGLE_TABLE -> false;
          case JOINED ->
              entity.parent().isPresent() || !statement.mapping.subtypes(entity).isEmpty();
          case TABLE_PER_CLASS -> !statement.mapping.subtypes(entity).isEmpty();
        };
    return inTables || !entity.joinedTables().isEmpty();
  }

  private boolean isUnion() {
    return entity.inheritance() == Inheritance.TABLE_PER_CLASS
        && !statement.mapping.subtypes(entity).isEmpty();
  }

  /** The rows that a condition selects. */
  private record Selected(EntityUse use, String from, String where, boolean oneTable) {}

  private record Scene(Block block, EntityUse use) {}

  private Scene scene() {
    Block block = new Block(new QueryScope(statement, Optional.empty()));
    String alias = statement.names.alias(entity.name().toLowerCase(java.util.Locale.ROOT));
    EntityTables tables = new EntityTables(statement);
    Root root = block.scope.from.root(tables.from(entity), alias);
    EntityUse use = new EntityUse(entity, alias, block.scope, root, false);
    block.scope.from.conditions.addAll(tables.conditions(use));
    block.scope.from.conditions.addAll(tables.ofSession(use));
    block.scope.roots.add(use);
    block.scope.name(name, use);
    return new Scene(block, use);
  }

  private Selected select(HqlParser.WhereClauseContext where, List<Identifier> needed) {
    Scene scene = scene();
    List<String> conditions = new ArrayList<>();
    if (where != null) {
      conditions.add(scene.block().predicates.sql(where.predicate()));
    }
    needed.forEach(column -> scene.use().column(column));
    FromClause from = scene.block().scope.from;
    boolean oneTable = from.roots.size() == 1 && from.roots.get(0).joins.isEmpty();
    return new Selected(
        scene.use(), from.render(), Queries.where(scene.block().scope, conditions), oneTable);
  }

  /** {@code change where key in (the selected)}, or with the condition itself where it can be. */
  private String change(
      String change, Identifier table, List<ColumnPair> key, HqlParser.WhereClauseContext where) {
    Selected selected = select(where, key.stream().map(ColumnPair::referenced).toList());
    if (selected.oneTable() && table.equals(entity.table())) {
      return change + renamed(selected.where(), selected.use().alias, table);
    }
    List<String> columns = key.stream().map(pair -> statement.names.write(pair.column())).toList();
    List<String> referenced =
        key.stream().map(pair -> selected.use().column(pair.referenced())).toList();
    return change
        + " where "
        + Comparisons.tuple(columns)
        + " in (select "
        + String.join(", ", referenced)
        + " from "
        + selected.from()
        + selected.where()
        + ")";
  }

  private String renamed(String sql, String alias, Identifier table) {
    return sql.replaceAll(
        "(?<![\\w.])" + Pattern.quote(alias) + "\\.",
        Matcher.quoteReplacement(statement.names.write(table) + "."));
  }

  private static List<ColumnPair> ownKey(Entity entity) {
    return entity.idColumns().stream()
        .map(column -> new ColumnPair(column.name(), column.name()))
        .toList();
  }

  /** DELETE: the entity's own table first, then further ones. */
  List<String> delete(HqlParser.WhereClauseContext where) {
    List<String> result = new ArrayList<>();
    if (isUnion()) {
      statement
          .mapping
          .concreteTypes(entity)
          .forEach(type -> result.addAll(new TableChanges(statement, type, name).delete(where)));
      return result;
    }
    if (entity.upkeep().softDelete().isPresent()) {
      SoftDelete soft = entity.upkeep().softDelete().get();
      Identifier marked = soft.column().table();
      String change =
          "update "
              + statement.names.write(marked)
              + " set "
              + new RowChanges(statement).gone(soft);
      return List.of(change(change, marked, keyOf(marked), where));
    }
    result.add(delete(entity.table(), ownKey(entity), where));
    result.addAll(deleteCollections(where));
    for (Entity subtype : statement.mapping.subtypes(entity)) {
      if (!subtype.table().equals(entity.table())) {
        List<ColumnPair> key = new ArrayList<>();
        for (int i = 0; i < subtype.idColumns().size(); i++) {
          key.add(
              new ColumnPair(subtype.idColumns().get(i).name(), entity.idColumns().get(i).name()));
        }
        result.add(delete(subtype.table(), key, where));
      }
      subtype.joinedTables().stream()
          .filter(JoinedTable::optional)
          .filter(it -> !entity.joinedTables().contains(it))
          .forEach(it -> result.add(delete(it.table(), it.pairs(), where)));
    }
    entity.joinedTables().forEach(it -> result.add(delete(it.table(), it.pairs(), where)));
    return result;
  }

  /** The rows of the tables of collections that the entity owns go before its own do. */
  List<String> deleteCollections(HqlParser.WhereClauseContext where) {
    List<String> result = new ArrayList<>();
    for (Attribute attribute : entity.attributes()) {
      if (attribute instanceof Attribute.ToMany many) {
        if (many.link() instanceof Link.Elements elements) {
          result.add(delete(elements.table(), elements.toOwner(), where));
        } else if (many.link() instanceof Link.ThroughTable through) {
          result.add(delete(through.table(), through.toOwner(), where));
        } else {
          inverseTable(many).ifPresent(it -> result.add(delete(it.table(), it.toTarget(), where)));
        }
      }
    }
    return result;
  }

  /** The table between of a collection that the target's own one keeps. */
  private Optional<Link.ThroughTable> inverseTable(Attribute.ToMany many) {
    return many.link() instanceof Link.Inverse inverse
        ? many.target()
            .flatMap(statement.mapping::ofClass)
            .flatMap(it -> it.attributeAt(inverse.mappedBy()))
            .filter(Attribute.ToMany.class::isInstance)
            .map(it -> ((Attribute.ToMany) it).link())
            .filter(Link.ThroughTable.class::isInstance)
            .map(Link.ThroughTable.class::cast)
        : Optional.empty();
  }

  private String delete(
      Identifier table, List<ColumnPair> key, HqlParser.WhereClauseContext where) {
    return change("delete from " + statement.names.write(table), table, key, where);
  }

  /** UPDATE: a statement for each table with an assignment. */
  List<String> update(HqlParser.UpdateStatementContext update) {
    if (isUnion()) {
      List<String> result = new ArrayList<>();
      statement
          .mapping
          .concreteTypes(entity)
          .forEach(type -> result.addAll(new TableChanges(statement, type, name).update(update)));
      return result;
    }
    Map<Identifier, List<String>> assignments = new LinkedHashMap<>();
    for (HqlParser.AssignmentContext assignment : update.setClause().assignment()) {
      Block.placed(
          assignment,
          () -> {
            assign(assignment, assignments);
            return null;
          });
    }
    if (update.VERSIONED() != null) {
      entity
          .version()
          .flatMap(entity::attribute)
          .map(version -> Entity.columnsOf(List.of(version)).get(0))
          .ifPresent(
              column -> {
                String written = statement.names.write(column.name());
                assignments
                    .computeIfAbsent(column.table(), it -> new ArrayList<>())
                    .add(written + " = " + written + " + 1");
              });
    }
    List<String> result = new ArrayList<>();
    assignments.forEach(
        (table, all) ->
            result.add(
                change(
                    "update " + statement.names.write(table) + " set " + String.join(", ", all),
                    table,
                    keyOf(table),
                    update.whereClause())));
    return result;
  }

  private List<ColumnPair> keyOf(Identifier table) {
    return entity.joinedTables().stream()
        .filter(it -> it.table().equals(table))
        .findFirst()
        .map(JoinedTable::pairs)
        .orElseGet(() -> ownKey(entity));
  }

  private void assign(
      HqlParser.AssignmentContext assignment, Map<Identifier, List<String>> assignments) {
    Scene scene = scene();
    Block block = scene.block();
    List<String> names = Block.names(assignment.simplePath());
    Value left = block.paths.value(block.node(assignment.simplePath(), names));
    boolean aliased = names.get(0).equalsIgnoreCase(name) && names.size() > 1;
    String path = String.join(".", aliased ? names.subList(1, names.size()) : names);
    List<MappedColumn> columns =
        entity.attributeAt(path).map(it -> Entity.columnsOf(List.of(it))).orElse(List.of());
    Value right = block.expressions.value(assignment.expressionOrPredicate());
    List<String> values = block.comparisons.columns(right, left);
    if (values.equals(List.of("null"))) {
      values = Collections.nCopies(columns.size(), "null");
    }
    if (columns.isEmpty() || columns.size() != values.size()) {
      throw new UntranslatableException("the assignment's sides differ in columns", 0, 0);
    }
    for (int i = 0; i < columns.size(); i++) {
      MappedColumn column = columns.get(i);
      String there = scene.use().column(column);
      String alias = there.substring(0, there.indexOf('.'));
      assignments
          .computeIfAbsent(column.table(), it -> new ArrayList<>())
          .add(
              statement.names.write(column.name())
                  + " = "
                  + ownColumns(values.get(i), block.scope.from, alias, column.table()));
    }
  }

  /** A value in terms of the changed table alone. */
  private String ownColumns(String value, FromClause from, String alias, Identifier table) {
    for (Root root : from.roots) {
      List<String> aliases = new ArrayList<>(List.of(root.alias));
      root.joins.forEach(join -> aliases.add(join.alias));
      for (String other : aliases) {
        boolean reads =
            !other.equals(alias)
                && Pattern.compile("(?<![\\w.])" + Pattern.quote(other) + "\\.")
                    .matcher(value)
                    .find();
        if (reads) {
          throw new UntranslatableException("an assignment reads further tables", 0, 0);
        }
      }
    }
    return renamed(value, alias, table);
  }
}
