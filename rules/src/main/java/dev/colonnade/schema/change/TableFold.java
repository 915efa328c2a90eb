package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.DroppedColumn;
import dev.colonnade.dialect.SchemaRules.RepeatedKey;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.View;
import dev.colonnade.schema.change.ColumnChange.AddColumn;
import dev.colonnade.schema.change.ColumnChange.DropColumn;
import dev.colonnade.schema.change.ColumnChange.ModifyColumn;
import dev.colonnade.schema.change.ColumnChange.RenameColumn;
import dev.colonnade.schema.change.ColumnChange.SetNullable;
import dev.colonnade.schema.change.ConstraintChange.AddForeignKey;
import dev.colonnade.schema.change.SchemaChange.CreateTable;
import dev.colonnade.schema.change.SchemaChange.DropTable;
import dev.colonnade.schema.change.SchemaChange.RenameTable;
import dev.colonnade.schema.change.ViewChange.CreateView;
import dev.colonnade.schema.change.ViewChange.DropView;
import dev.colonnade.schema.change.ViewChange.RenameView;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;

/** Applies changes of tables, columns and views. */
final class TableFold {
  private final FoldState state;
  private final SchemaRules rules;
  private final KeyFold keys;
  private final IndexNames names;
  private final RebuiltTable rebuilt;
  private final DroppedParts drops;

  TableFold(FoldState state, SchemaRules rules, KeyFold keys) {
    this.state = state;
    this.rules = rules;
    this.keys = keys;
    this.drops = new DroppedParts(rules);
    this.rebuilt = new RebuiltTable(state, rules);
    this.names = new IndexNames(rules.naming().value());
  }

  /** Makes the table; false when it is there already, so that its parts must not be applied. */
  boolean create(CreateTable change) {
    if (state.find(change.schemaName(), change.table()).isPresent()) {
      if (!change.ifNotExists()) {
        state.note(change.location(), "create table: " + change.table() + " exists already");
      }
      return false;
    }
    TableState table =
        state.newTable(
            change.table(), change.schemaName(), change.columnsKnown(), change.location());
    change.columns().forEach(table::addColumn);
    state.add(table);
    return true;
  }

  /**
   * The parts of a statement without keys that the database merges; foreign keys last where their
   * indexes give way to the others.
   */
  List<SchemaChange> distinctKeys(List<SchemaChange> parts) {
    if (rules.repeatedKey().value() == RepeatedKey.MERGED_IN_STATEMENT) {
      return RepeatedKeys.merged(parts);
    }
    return rules.implicitIndexGivesWay().value()
        ? parts.stream()
            .sorted(Comparator.comparing((SchemaChange part) -> part instanceof AddForeignKey))
            .toList()
        : parts;
  }

  void drop(DropTable change) {
    if (!state.tables.containsKey(change.table())) {
      if (!change.ifExists() && !state.temporary.remove(change.table().unqualified())) {
        state.note(change.location(), "drop table: no table " + change.table() + " at this point");
      }
      return;
    }
    TableState table = state.tables.get(change.table());
    table.dropped();
    if (!rules.referencesOutliveParent().value()) {
      dropReferences(constraint -> constraint.refersTo(change.table()));
    }
    state.remove(table);
  }

  private void dropReferences(Predicate<Constraint> condition) {
    state.tables.values().forEach(other -> drops.constraints(other, condition));
  }

  void rename(RenameTable change) {
    Optional<TableState> found = state.table(change.from(), change.location(), "rename table");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    Identifier from = table.name();
    Identifier to = change.to().unqualified();
    Optional<Identifier> schema = change.to().qualifier().or(table::schemaName);
    if (state.find(schema, to).filter(other -> !other.equals(table)).isPresent()) {
      state.note(change.location(), "rename table: " + change.to() + " exists already");
      return;
    }
    // No other table has this name, so that references stay with the right one.
    Identifier between = new Identifier(to.text() + "\u0000");
    state.redirect(change.from(), between);
    state.remove(table);
    table.moveTo(schema);
    table.rename(to);
    for (Index index : table.indexes()) {
      Identifier name = names.afterTableRename(index, from, to);
      if (!name.equals(index.name())) {
        table.renameIndex(index.name(), name);
      }
    }
    state.add(table);
    state.redirect(between, table.id());
  }

  private void redirectReferences(
      Identifier from, Identifier to, UnaryOperator<Identifier> column) {
    for (TableState other : state.tables.values()) {
      for (Constraint constraint : other.constraints()) {
        if (constraint.refersTo(from)) {
          other.replaceConstraint(constraint, constraint.withReference(to, column));
        }
      }
    }
  }

  void addColumn(AddColumn change) {
    Optional<TableState> table = state.table(change.table(), change.location(), "add column");
    if (table.isEmpty()) {
      return;
    }
    if (table.get().column(change.column().name()).isPresent()) {
      if (!change.ifNotExists()) {
        state.note(
            change.location(),
            "add column: "
                + change.table()
                + " has a column "
                + change.column().name()
                + " already");
      }
      return;
    }
    table.get().addColumn(change.column());
    copied(table.get());
  }

  /** Where the statement makes the database build the table anew, indexes may be shared after. */
  private void copied(TableState table) {
    if (rules.alterCopiesTable().value()) {
      rebuilt.rebuild(table);
    }
  }

  void renameColumn(RenameColumn change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "rename column");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    Optional<Column> column = table.column(change.from());
    if (!table.mayHave(change.from())) {
      noteMissing(change.location(), "rename column", change.table(), change.from());
      return;
    }
    column.ifPresent(
        old ->
            table.replaceColumn(
                change.from(),
                new Column(change.to(), old.type(), old.nullable(), old.collation())));
    UnaryOperator<Identifier> renamed = name -> name.equals(change.from()) ? change.to() : name;
    for (Constraint constraint : table.constraints()) {
      table.replaceConstraint(
          constraint, constraint.withColumns(constraint.columns().stream().map(renamed).toList()));
    }
    for (Index index : table.indexes()) {
      table.putIndex(IndexEdits.withColumnRenamed(index, change.from(), change.to()));
    }
    redirectReferences(change.table(), change.table(), renamed);
  }

  void modifyColumn(ModifyColumn change) {
    UnaryOperator<Column> modified =
        old ->
            new Column(
                old.name(),
                change.type().equals(ColumnType.UNKNOWN) ? old.type() : change.type(),
                change.nullable().orElse(old.nullable()),
                old.collation());
    Optional<TableState> table = state.table(change.table(), change.location(), "modify column");
    Optional<Column> before = table.flatMap(found -> found.column(change.column()));
    table.ifPresent(
        found -> edit(change.location(), "modify column", found, change.column(), modified));
    if (before.isPresent() && !RebuiltTable.isWider(before.get(), modified.apply(before.get()))) {
      copied(table.orElseThrow());
    }
  }

  void setNullable(SetNullable change) {
    String purpose = change.nullable() ? "drop not null" : "add not null";
    state
        .table(change.table(), change.location(), purpose)
        .ifPresent(
            table -> {
              if (!change.nullable()) {
                table.forbidsNull(change.column());
              }
              edit(
                  change.location(),
                  purpose,
                  table,
                  change.column(),
                  old -> new Column(old.name(), old.type(), change.nullable(), old.collation()));
            });
  }

  /** Whatever is said of it, a column of the primary key holds no NULL where the key forbids it. */
  private void edit(
      SourceLocation location,
      String purpose,
      TableState table,
      Identifier columnName,
      UnaryOperator<Column> change) {
    Optional<Column> column = table.column(columnName);
    if (column.isPresent()) {
      Column changed = change.apply(column.get());
      boolean inKey =
          rules.primaryKeyForbidsNull().value()
              && table.primaryKey().filter(key -> key.columns().contains(columnName)).isPresent();
      table.replaceColumn(
          columnName,
          inKey ? new Column(changed.name(), changed.type(), false, changed.collation()) : changed);
    } else if (!table.mayHave(columnName)) {
      noteMissing(location, purpose, table.name(), columnName);
    }
  }

  private void noteMissing(
      SourceLocation location, String purpose, Identifier table, Identifier column) {
    state.note(
        location, purpose + ": table " + table + " has no column " + column + " at this point");
  }

  void dropColumn(DropColumn change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "drop column");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    if (!table.mayHave(change.column())) {
      if (!change.ifExists()) {
        noteMissing(change.location(), "drop column", change.table(), change.column());
      }
      return;
    }
    boolean stays =
        rules.ownReferenceKeepsColumn().value()
            && table
                .constraint(
                    constraint ->
                        constraint.refersTo(change.table())
                            && constraint.columns().contains(change.column()))
                .isPresent();
    for (Index index : table.indexes()) {
      if (IndexEdits.columns(index).contains(change.column())) {
        columnLeaves(change, table, index);
      }
    }
    for (Constraint constraint : table.constraints()) {
      if (constraint.columns().contains(change.column())) {
        columnLeaves(change, table, constraint);
      }
    }
    if (!rules.referencesOutliveParent().value()) {
      dropReferences(
          constraint ->
              constraint.refersTo(change.table())
                  && constraint.referencedColumns().contains(change.column()));
    }
    if (!stays) {
      table.removeColumn(change.column());
    }
    table.indexes().forEach(index -> keys.retireImplicit(table, index));
    copied(table);
  }

  private void columnLeaves(DropColumn change, TableState table, Index index) {
    if (change.dropsIndexes()) {
      table.removeIndex(index.name());
      return;
    }
    switch (rules.droppedColumn().value()) {
      case DROPS_INDEX -> table.removeIndex(index.name());
      case LEAVES_INDEX, LEAVES_PLAIN_INDEX -> {
        boolean unique =
            index.unique() && rules.droppedColumn().value() == DroppedColumn.LEAVES_PLAIN_INDEX;
        List<KeyColumn> rest =
            index.keyColumns().stream()
                .filter(
                    key ->
                        key.value().columns().stream()
                            .noneMatch(column -> column.column().equals(change.column())))
                .toList();
        if (rest.isEmpty() || unique) {
          table.removeIndex(index.name());
        } else {
          table.putIndex(IndexEdits.withKey(index, rest));
        }
      }
      case DROPS_SINGLE -> {
        if (index.keyColumns().size() + index.includedColumns().size() > 1) {
          noteRefusal(change, index);
        }
        table.removeIndex(index.name());
      }
      case REFUSED -> {
        noteRefusal(change, index);
        table.removeIndex(index.name());
      }
    }
  }

  private void noteRefusal(DropColumn change, Index index) {
    state.note(
        change.location(),
        "drop column: index "
            + index.name()
            + " has column "
            + change.column()
            + ", and this database refuses to drop it then; read on as if the index went first");
  }

  private void columnLeaves(DropColumn change, TableState table, Constraint constraint) {
    List<Identifier> rest =
        constraint.columns().stream().filter(column -> !column.equals(change.column())).toList();
    boolean stays =
        rules.droppedColumn().value() == DroppedColumn.LEAVES_INDEX
            && !rest.isEmpty()
            && !constraint.isForeignKey();
    if (stays) {
      table.replaceConstraint(constraint, constraint.withColumns(rest));
    } else {
      table.removeConstraint(constraint);
      if (constraint.ownsIndex() && rules.droppedColumn().value() != DroppedColumn.LEAVES_INDEX) {
        constraint.index().ifPresent(table::removeIndex);
      }
    }
  }

  void createView(CreateView change) {
    if (change.materialized()) {
      state.find(change.view().qualifier(), change.view().unqualified()).ifPresent(state::remove);
      state.add(
          state.newTable(
              change.view().unqualified(),
              change.view().qualifier(),
              /* columnsKnown= */ false,
              change.location()));
    }
    state.views.put(change.view(), new View(change.view(), change.definition(), change.location()));
  }

  void dropView(DropView change) {
    View view = state.views.remove(change.view());
    if (view != null) {
      TableState stored = state.tables.get(change.view());
      if (stored != null) {
        stored.dropped();
        state.remove(stored);
      }
    } else if (!change.ifExists()) {
      state.note(change.location(), "drop view: no view " + change.view() + " at this point");
    }
  }

  void renameView(RenameView change) {
    View view = state.views.remove(change.from());
    if (view == null) {
      state.note(change.location(), "rename view: no view " + change.from() + " at this point");
      return;
    }
    state.views.put(change.to(), new View(change.to(), view.definition(), view.location()));
    TableState stored = state.tables.get(change.from());
    if (stored != null) {
      state.remove(stored);
      stored.rename(change.to());
      state.add(stored);
    }
  }
}
