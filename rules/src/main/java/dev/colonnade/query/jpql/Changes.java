package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.query.jpql.FromClause.Root;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.antlr.v4.runtime.ParserRuleContext;
import org.hibernate.grammars.hql.HqlParser;

/** Translates UPDATE, DELETE and INSERT; what lies in several tables is {@link TableChanges}'. */
final class Changes {
  /** HQL's name for the row that could not be inserted, and PostgreSQL's. */
  private static final String GIVEN = "excluded";

  private final Statement statement;

  Changes(Statement statement) {
    this.statement = statement;
  }

  /** The statement on the entity's own table first, then what goes with it. */
  List<String> delete(HqlParser.DeleteStatementContext delete) {
    HqlParser.RootEntityContext root = root(delete.entityWithJoins());
    Entity entity = entity(root.entityName(), root.entityName().getText());
    String name = Sources.variable(root.variable()).orElse(entity.name());
    TableChanges tables = new TableChanges(statement, entity, name);
    if (TableChanges.isSpread(statement, entity)) {
      return tables.delete(delete.whereClause());
    }
    Target target = target(delete.entityWithJoins());
    List<String> result = new ArrayList<>();
    if (entity.upkeep().softDelete().isPresent()) {
      String gone = new RowChanges(statement).gone(entity.upkeep().softDelete().get());
      return List.of(
          "update " + target.table() + " set " + gone + where(target, delete.whereClause()));
    }
    result.add("delete from " + target.table() + where(target, delete.whereClause()));
    result.addAll(tables.deleteCollections(delete.whereClause()));
    return result;
  }

  /** One statement for each table with an assignment. */
  List<String> update(HqlParser.UpdateStatementContext update) {
    HqlParser.RootEntityContext root = root(update.entityWithJoins());
    Entity entity = entity(root.entityName(), root.entityName().getText());
    if (TableChanges.isSpread(statement, entity)) {
      String name = Sources.variable(root.variable()).orElse(entity.name());
      return new TableChanges(statement, entity, name).update(update);
    }
    return List.of(updateOneTable(update));
  }

  private static HqlParser.RootEntityContext root(HqlParser.EntityWithJoinsContext part) {
    if (!(part.fromRoot() instanceof HqlParser.RootEntityContext root)
        || !part.join().isEmpty()
        || !part.crossJoin().isEmpty()) {
      throw UntranslatableException.at(part, "a change of joined entities is not translated");
    }
    return root;
  }

  private Entity entity(ParserRuleContext place, String name) {
    return statement
        .mapping
        .entity(name)
        .orElseThrow(() -> UntranslatableException.at(place, name + " is no entity"));
  }

  private String updateOneTable(HqlParser.UpdateStatementContext update) {
    Target target = target(update.entityWithJoins());
    List<String> assignments = new ArrayList<>();
    for (HqlParser.AssignmentContext assignment : update.setClause().assignment()) {
      assignments.add(Block.placed(assignment, () -> assignment(target, assignment)));
    }
    if (update.VERSIONED() != null) {
      target
          .use()
          .entity
          .version()
          .ifPresent(
              version -> {
                String column = bare(single(target, update, List.of(version)));
                assignments.add(column + " = " + column + " + 1");
              });
    }
    if (!target.root().joins.isEmpty()) {
      throw UntranslatableException.at(update, "an assignment reads further tables");
    }
    return "update "
        + target.table()
        + " set "
        + String.join(", ", assignments)
        + where(target, update.whereClause());
  }

  private String assignment(Target target, HqlParser.AssignmentContext assignment) {
    Block block = target.block();
    Value left =
        block.paths.value(
            block.node(assignment.simplePath(), Block.names(assignment.simplePath())));
    Value right = block.expressions.value(assignment.expressionOrPredicate());
    List<String> columns = block.comparisons.columns(left, right);
    List<String> values = block.comparisons.columns(right, left);
    if (values.equals(List.of("null"))) {
      values = java.util.Collections.nCopies(columns.size(), "null");
    }
    if (columns.size() != values.size()) {
      throw new UntranslatableException("the assignment's sides differ in columns", 0, 0);
    }
    List<String> result = new ArrayList<>();
    for (int i = 0; i < columns.size(); i++) {
      result.add(bare(columns.get(i)) + " = " + values.get(i));
    }
    return String.join(", ", result);
  }

  private static String single(Target target, ParserRuleContext place, List<String> names) {
    Block block = target.block();
    Value value = block.paths.value(block.node(place, names));
    return block.comparisons.columns(value, Value.Columns.of("")).get(0);
  }

  /** A column without its table: what an assignment sets. */
  private static String bare(String column) {
    return column.substring(column.indexOf('.') + 1);
  }

  /** A statement's table, which stands for itself without an alias. */
  private record Target(String table, EntityUse use, Root root, Block block) {}

  private Target target(HqlParser.EntityWithJoinsContext part) {
    HqlParser.RootEntityContext root = root(part);
    return target(
        root.entityName(), root.entityName().getText(), Sources.variable(root.variable()));
  }

  private Target target(ParserRuleContext place, String name, Optional<String> alias) {
    Entity entity = entity(place, name);
    if (entity.subselect().isPresent()) {
      throw UntranslatableException.at(
          place, "the rows of " + name + " are those of a query, which cannot be changed");
    }
    String table = statement.names.write(entity.table());
    Block block = new Block(new QueryScope(statement, Optional.empty()));
    Root root = block.scope.from.root(table, table);
    EntityUse use = new EntityUse(entity, table, block.scope, root, false);
    EntityTables tables = new EntityTables(statement);
    block.scope.from.conditions.addAll(tables.conditions(use));
    block.scope.from.conditions.addAll(tables.ofSession(use));
    block.scope.roots.add(use);
    block.scope.name(alias.orElse(entity.name()), use);
    return new Target(table, use, root, block);
  }

  /** Where a condition reads further tables, the rows to change are found by a subquery. */
  private String where(Target target, HqlParser.WhereClauseContext where) {
    Block block = target.block();
    List<String> conditions = new ArrayList<>();
    if (where != null) {
      conditions.add(block.predicates.sql(where.predicate()));
    }
    String sql = Queries.where(block.scope, conditions);
    if (target.root().joins.isEmpty() && block.scope.from.roots.size() == 1) {
      return sql;
    }
    String alias =
        statement.names.alias(target.use().entity.name().toLowerCase(java.util.Locale.ROOT));
    List<String> key = target.use().key();
    String from = block.scope.from.render();
    String renamed = "(?<![\\w.])" + java.util.regex.Pattern.quote(target.table()) + "\\.";
    String inner =
        "select "
            + String.join(", ", key)
            + " from "
            + target.table()
            + " "
            + alias
            + from.substring(target.table().length())
            + sql;
    return " where "
        + Comparisons.tuple(key)
        + " in ("
        + inner.replaceAll(renamed, java.util.regex.Matcher.quoteReplacement(alias + "."))
        + ")";
  }

  /**
   * The insert; where it changes rows that are there already and the database has no clause for
   * that, the update of such a row beside it.
   */
  List<String> insert(HqlParser.InsertStatementContext insert) {
    HqlParser.TargetEntityContext entity = insert.targetEntity();
    Target target =
        target(entity, entity.entityName().getText(), Sources.variable(entity.variable()));
    List<String> columns = new ArrayList<>();
    for (HqlParser.SimplePathContext field : insert.targetFields().simplePath()) {
      Value value = target.block().paths.value(target.block().node(field, Block.names(field)));
      target
          .block()
          .comparisons
          .columns(value, Value.Columns.of(""))
          .forEach(it -> columns.add(bare(it)));
    }
    boolean inherits =
        target.use().entity.inheritance() == Inheritance.JOINED
            && target.use().entity.parent().isPresent();
    if (inherits || !target.root().joins.isEmpty()) {
      throw UntranslatableException.at(
          insert, "an insert into several tables is several statements");
    }
    String rows;
    if (insert.queryExpression() != null) {
      rows = new Queries(statement).expression(insert.queryExpression(), Optional.empty(), false);
    } else {
      rows =
          "values "
              + String.join(
                  ", ",
                  insert.valuesList().values().stream()
                      .map(
                          values ->
                              "("
                                  + String.join(
                                      ", ",
                                      values.expressionOrPredicate().stream()
                                          .map(target.block().expressions::sql)
                                          .toList())
                                  + ")")
                      .toList());
    }
    String sql = "insert into " + target.table() + " (" + String.join(", ", columns) + ") " + rows;
    return insert.conflictClause() == null
        ? List.of(sql)
        : onConflict(sql, target, insert.conflictClause());
  }

  private List<String> onConflict(
      String sql, Target target, HqlParser.ConflictClauseContext clause) {
    List<String> key = new ArrayList<>();
    if (clause.conflictTarget() == null) {
      target.use().key().forEach(it -> key.add(bare(it)));
    } else if (clause.conflictTarget().identifier() == null) {
      for (HqlParser.SimplePathContext path : clause.conflictTarget().simplePath()) {
        Value value = target.block().paths.value(target.block().node(path, Block.names(path)));
        target
            .block()
            .comparisons
            .columns(value, Value.Columns.of(""))
            .forEach(it -> key.add(bare(it)));
      }
    }
    String columns = key.isEmpty() ? "" : " (" + String.join(", ", key) + ")";
    HqlParser.ConflictActionContext action = clause.conflictAction();
    if (action.UPDATE() == null) {
      return List.of(sql + statement.words.onConflict(columns, "nothing").orElse(""));
    }
    QueryScope scope = target.block().scope;
    Root given = new Root(GIVEN, GIVEN);
    scope.name(GIVEN, new EntityUse(target.use().entity, GIVEN, scope, given, false));
    List<String> assignments = new ArrayList<>();
    for (HqlParser.AssignmentContext assignment : action.setClause().assignment()) {
      assignments.add(Block.placed(assignment, () -> assignment(target, assignment)));
    }
    List<String> conditions = new ArrayList<>();
    if (action.whereClause() != null) {
      conditions.add(target.block().predicates.sql(action.whereClause().predicate()));
    }
    String set = String.join(", ", assignments);
    String where = conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions);
    Optional<String> end = statement.words.onConflict(columns, "update set " + set + where);
    if (end.isPresent()) {
      return List.of(sql + end.get());
    }
    List<String> found = new ArrayList<>();
    key.forEach(it -> found.add(it + " = :" + GIVEN + "_" + it));
    found.addAll(conditions);
    String update =
        "update "
            + target.table()
            + " set "
            + set
            + (found.isEmpty() ? "" : " where " + String.join(" and ", found));
    return List.of(sql, update.replace(GIVEN + ".", ":" + GIVEN + "_"));
  }
}
