package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.ForeignKeyIndex;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.AddForeignKey;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** Applies new foreign keys, and makes the indexes that some databases make for them. */
final class ForeignKeyFold {
  private final FoldState state;
  private final SchemaRules rules;
  private final KeyFold keys;

  ForeignKeyFold(FoldState state, SchemaRules rules, KeyFold keys) {
    this.state = state;
    this.rules = rules;
    this.keys = keys;
  }

  void add(AddForeignKey change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "foreign key");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    if (!keys.columnsExist(table, change.columns(), change.location(), "foreign key")) {
      return;
    }
    int count = (int) table.constraints().stream().filter(Constraint::isForeignKey).count();
    Identifier name =
        change
            .name()
            .map(keys.names()::kept)
            .orElseGet(
                () ->
                    keys.names()
                        .foreignKey(
                            table.name(),
                            change.columns(),
                            count,
                            n -> keys.isConstraintTaken(table, n)));
    Optional<Index> serving =
        table.indexes().stream().filter(index -> serves(index, change.columns())).findFirst();
    boolean made = serving.isEmpty() && rules.foreignKeyIndex().value() != ForeignKeyIndex.NONE;
    if (made) {
      Identifier indexName =
          keys.names()
              .forForeignKey(
                  table.name(),
                  name,
                  change.name().isPresent(),
                  change.columns(),
                  n ->
                      rules.indexNamesPerTable().value()
                          ? table.index(n).isPresent()
                          : state.hasIndex(table, n));
      Index index =
          new Index(
              indexName,
              table.name(),
              /* unique= */ false,
              indexed(change).stream()
                  .map(column -> KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false))
                  .toList(),
              List.of(),
              Optional.empty(),
              Optional.empty(),
              IndexMethod.BTREE,
              /* clustered= */ false,
              IndexOrigin.FOREIGN_KEY,
              change.location());
      table.putIndex(index);
      serving = Optional.of(index);
      keys.retireImplicit(table, index);
    }
    table.addConstraint(
        new Constraint(
            ConstraintKind.FOREIGN_KEY,
            name,
            change.name().isPresent(),
            change.columns(),
            Optional.of(change.referencedTable()),
            change.referencedColumns(),
            serving.map(Index::name),
            made,
            change.location()));
  }

  /** The columns of the index, which may follow the parent's key. */
  private List<Identifier> indexed(AddForeignKey change) {
    TableState parent = state.tables.get(change.referencedTable());
    if (!rules.foreignKeyFollowsParent().value()
        || parent == null
        || change.columns().size() != change.referencedColumns().size()) {
      return change.columns();
    }
    return parent.constraints().stream()
        .filter(key -> !key.isForeignKey())
        .sorted(Comparator.comparing((Constraint key) -> !key.isPrimaryKey()))
        .map(Constraint::columns)
        .filter(
            key ->
                key.size() == change.columns().size()
                    && key.containsAll(change.referencedColumns()))
        .findFirst()
        .map(
            key ->
                key.stream()
                    .map(column -> change.columns().get(change.referencedColumns().indexOf(column)))
                    .toList())
        .orElse(change.columns());
  }

  private boolean serves(Index index, List<Identifier> columns) {
    return switch (rules.foreignKeyIndex().value()) {
      case NONE, ALWAYS -> false;
      case UNLESS_LED -> IndexEdits.leadsWith(index, columns) && !isReplaced(index, columns);
      case UNLESS_SAME_COLUMNS ->
          index.keyColumns().size() == columns.size()
              && IndexEdits.leadsWithAnyOrder(index, columns);
    };
  }

  /** Of two indexes made for foreign keys on the same columns, the later one stays. */
  private boolean isReplaced(Index index, List<Identifier> columns) {
    return rules.implicitIndexGivesWay().value()
        && index.origin() == IndexOrigin.FOREIGN_KEY
        && index.keyColumns().size() == columns.size();
  }
}
