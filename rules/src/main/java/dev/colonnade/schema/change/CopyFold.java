package dev.colonnade.schema.change;

import dev.colonnade.dialect.StatementRules.QueriedNotNull;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.CopiedTable.What;
import dev.colonnade.schema.change.IndexChange.CreateIndex;
import dev.colonnade.schema.change.QueriedTable.Selected;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Gives tables the columns and indexes of other tables, and the columns of queries. */
final class CopyFold {
  private final FoldState state;
  private final TableNames names;
  private final SchemaChangeVisitor changes;

  private final QueriedNotNull notNull;

  CopyFold(FoldState state, SchemaChangeVisitor changes, QueriedNotNull notNull) {
    this.state = state;
    this.notNull = notNull;
    this.names = new TableNames(state);
    this.changes = changes;
  }

  void copy(CopiedTable change) {
    TableState table = state.tables.get(change.table());
    TableState source = state.tables.get(change.source());
    if (table == null) {
      return;
    }
    if (source == null) {
      state.note(
          change.location(),
          "create table: no table " + change.source() + " at this point, to take columns from");
      return;
    }
    if (change.what() == What.NOTHING_MORE) {
      source.removePartition(change.table());
      return;
    }
    if (source.columnsKnown()) {
      table.learnColumns(source.columns());
    } else {
      state.note(
          change.location(),
          "create table: the columns of " + change.table() + " are not known here");
    }
    if (change.what() == What.PARTITION) {
      source.addPartition(change.table());
    }
    if (change.what() != What.COLUMNS) {
      boolean named = change.what() == What.COLUMNS_AND_NAMED_INDEXES;
      source.indexes().stream()
          .filter(index -> !hasSame(table, index))
          .map(index -> copied(index, change, named))
          .toList()
          .forEach(copy -> copy.accept(changes));
    }
  }

  /** True where an index is there that serves as the partition's part of the other one. */
  static boolean hasSame(TableState table, Index index) {
    return table.indexes().stream().anyMatch(own -> isSame(own, index));
  }

  static boolean isSame(Index own, Index index) {
    return own.keyColumns().equals(index.keyColumns())
        && own.includedColumns().equals(index.includedColumns())
        && own.unique() == index.unique()
        && own.method() == index.method()
        && own.predicate().equals(index.predicate());
  }

  private static SchemaChange copied(Index index, CopiedTable change, boolean named) {
    Optional<Identifier> name = named ? Optional.of(index.name()) : Optional.empty();
    return switch (index.origin()) {
      case PRIMARY_KEY ->
          new AddPrimaryKey(
              change.table(),
              Optional.empty(),
              index.keyColumns(),
              index.includedColumns(),
              Optional.empty(),
              Optional.empty(),
              change.location());
      case UNIQUE_CONSTRAINT ->
          new AddUniqueConstraint(
              change.table(),
              name,
              index.keyColumns(),
              index.includedColumns(),
              Optional.empty(),
              index.clustered(),
              change.location());
      case CREATE_INDEX, FOREIGN_KEY ->
          new CreateIndex(
              name,
              change.table(),
              index.unique(),
              index.keyColumns(),
              index.includedColumns(),
              index.predicate(),
              index.predicateText(),
              index.method(),
              index.clustered(),
              /* ifNotExists= */ false,
              change.location());
    };
  }

  void query(QueriedTable change) {
    TableState table = state.tables.get(change.table());
    if (table == null || table.columnsKnown()) {
      return;
    }
    Optional<List<Column>> columns = columns(change);
    if (columns.isPresent()) {
      table.learnColumns(columns.get());
    } else {
      state.note(change.location(), "the columns of " + change.table() + " are not known here");
    }
  }

  /** Nothing where one of the columns is not known. */
  private Optional<List<Column>> columns(QueriedTable change) {
    List<Column> columns = new ArrayList<>();
    for (Selected selected : change.selected()) {
      if (selected.name().isPresent()) {
        columns.add(
            new Column(
                selected.name().get(), type(selected), isNullable(selected), Optional.empty()));
      } else if (!addAll(selected, columns)) {
        return Optional.empty();
      }
    }
    if (columns.isEmpty()
        || (!change.names().isEmpty() && columns.size() < change.names().size())) {
      return Optional.empty();
    }
    for (int i = 0; i < change.names().size(); i++) {
      Column old = columns.get(i);
      columns.set(
          i, new Column(change.names().get(i), old.type(), old.nullable(), old.collation()));
    }
    return Optional.of(columns);
  }

  private boolean isNullable(Selected selected) {
    if (selected.optional() || notNull == QueriedNotNull.LOST) {
      return true;
    }
    return selected.column().isPresent()
        && selected.tables().stream()
            .flatMap(name -> names.find(name).stream())
            .filter(table -> table.column(selected.column().get()).isPresent())
            .findFirst()
            .map(table -> isNullable(table, table.column(selected.column().get()).orElseThrow()))
            .orElse(true);
  }

  private boolean isNullable(TableState table, Column column) {
    return switch (notNull) {
      case LOST -> true;
      case WRITTEN -> column.nullable() || table.isNotNullByKey(column.name());
      case KEPT -> column.nullable();
    };
  }

  private boolean addAll(Selected selected, List<Column> columns) {
    for (Identifier name : selected.tables()) {
      TableState table = names.find(name).orElse(null);
      if (table == null || !table.columnsKnown()) {
        return false;
      }
      for (Column column : table.columns()) {
        boolean nullable = selected.optional() || isNullable(table, column);
        columns.add(new Column(column.name(), column.type(), nullable, column.collation()));
      }
    }
    return !selected.tables().isEmpty();
  }

  private ColumnType type(Selected selected) {
    return selected.tables().stream()
        .flatMap(name -> names.find(name).stream())
        .flatMap(table -> selected.column().flatMap(table::column).stream())
        .map(Column::type)
        .findFirst()
        .orElse(ColumnType.UNKNOWN);
  }
}
