package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.Naming;
import dev.colonnade.dialect.SchemaRules.PrimaryKeyStorage;
import dev.colonnade.dialect.SchemaRules.RepeatedKey;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.schema.change.ConstraintChange.AddPrimaryKey;
import dev.colonnade.schema.change.ConstraintChange.AddUniqueConstraint;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Applies new constraints, and makes the indexes that the database makes for them. */
final class KeyFold {
  /** The name under which a table stored in the order of its integer key is listed as an index. */
  private static final Identifier ROW = new Identifier("rowid");

  private final FoldState state;
  private final SchemaRules rules;
  private final IndexNames names;

  KeyFold(FoldState state, SchemaRules rules) {
    this.state = state;
    this.rules = rules;
    this.names = new IndexNames(rules.naming().value());
  }

  IndexNames names() {
    return names;
  }

  /** True when a new object belonging to the table cannot have that name. */
  boolean isTaken(TableState table, Identifier name) {
    return rules.indexNamesPerTable().value()
        ? table.index(name).isPresent()
        : state.isTaken(table, name);
  }

  boolean isConstraintTaken(TableState table, Identifier name) {
    return rules.naming().value() == Naming.HASHED
        ? state.hasConstraint(table, name)
        : isTaken(table, name);
  }

  /** True when the table may have each column of the key; otherwise an entry says which not. */
  boolean columnsExist(
      TableState table, Iterable<Identifier> columns, SourceLocation location, String purpose) {
    for (Identifier column : columns) {
      if (!table.mayHave(column)) {
        state.note(
            location,
            purpose + ": table " + table.name() + " has no column " + column + " at this point");
        return false;
      }
    }
    return true;
  }

  static List<Identifier> plainColumns(List<KeyColumn> key) {
    List<Identifier> columns = new ArrayList<>();
    for (KeyColumn part : key) {
      part.value().columns().forEach(column -> columns.add(column.column()));
    }
    return columns;
  }

  void add(AddPrimaryKey change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "primary key");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    List<KeyColumn> key = change.keyColumns();
    if (key.isEmpty() && change.usingIndex().isPresent()) {
      key = table.index(change.usingIndex().get()).map(Index::keyColumns).orElse(List.of());
    }
    List<Identifier> columns = plainColumns(key);
    if (columns.isEmpty() || !columnsExist(table, columns, change.location(), "primary key")) {
      return;
    }
    if (table.primaryKey().isPresent()) {
      if (!table.primaryKey().get().columns().equals(columns)) {
        state.note(change.location(), "primary key: table " + table.name() + " has one already");
      }
      return;
    }
    boolean isRow = change.clustered().isEmpty() && isRow(table, key);
    if (isRow || rules.primaryKeyForbidsNull().value()) {
      columns.forEach(column -> forbidNull(table, column));
    }
    Identifier name =
        change
            .name()
            .map(names::kept)
            .orElseGet(() -> names.primaryKey(table.name(), n -> isConstraintTaken(table, n)));
    if (isRow) {
      Index row =
          keyIndex(
              table,
              ROW,
              key,
              List.of(),
              /* clustered= */ true,
              IndexOrigin.PRIMARY_KEY,
              change.location());
      table.putIndex(row);
      addConstraint(
          table,
          ConstraintKind.PRIMARY_KEY,
          name,
          change.name().isPresent(),
          columns,
          Optional.of(row.name()),
          /* ownsIndex= */ true,
          change.location());
      return;
    }
    addKey(
        table,
        ConstraintKind.PRIMARY_KEY,
        name,
        change.name().isPresent(),
        key,
        change.includedColumns(),
        change.usingIndex(),
        clustered(table, change.clustered()),
        change.location());
  }

  private boolean isRow(TableState table, List<KeyColumn> key) {
    return rules.primaryKeyStorage().value() == PrimaryKeyStorage.INTEGER_IS_ROW
        && key.size() == 1
        && !key.get(0).descending()
        && key.get(0)
            .column()
            .flatMap(table::column)
            .filter(column -> column.type().text().equalsIgnoreCase("integer"))
            .isPresent();
  }

  /** The column is an integer from now on, and where there is no other key, the row number. */
  void counts(TableState table, Column column, SourceLocation location) {
    ColumnType integer = ColumnType.of("INTEGER", TypeFamily.INTEGER);
    table.replaceColumn(
        column.name(), new Column(column.name(), integer, column.nullable(), column.collation()));
    add(
        new AddPrimaryKey(
            table.id(),
            Optional.empty(),
            List.of(KeyColumn.of(new ColumnRef(ColumnRef.SELF, column.name()), false)),
            List.of(),
            Optional.empty(),
            Optional.empty(),
            location));
  }

  private boolean clustered(TableState table, Optional<Boolean> written) {
    return switch (rules.primaryKeyStorage().value()) {
      case BESIDE -> false;
      case INTEGER_IS_ROW -> written.orElse(false);
      case CLUSTERED -> true;
      case CLUSTERED_BY_DEFAULT ->
          written.orElse(table.indexes().stream().noneMatch(Index::clustered));
    };
  }

  private static void forbidNull(TableState table, Identifier name) {
    table
        .column(name)
        .filter(Column::nullable)
        .ifPresent(
            old -> {
              table.replaceColumn(
                  name, new Column(old.name(), old.type(), /* nullable= */ false, old.collation()));
              table.keyForbidsNull(name);
            });
  }

  void add(AddUniqueConstraint change) {
    Optional<TableState> found =
        state.table(change.table(), change.location(), "unique constraint");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    List<KeyColumn> key = change.keyColumns();
    if (key.isEmpty() && change.usingIndex().isPresent()) {
      key = table.index(change.usingIndex().get()).map(Index::keyColumns).orElse(List.of());
    }
    List<Identifier> columns = plainColumns(key);
    if (columns.isEmpty()
        || !columnsExist(table, columns, change.location(), "unique constraint")) {
      return;
    }
    List<Identifier> named = new ArrayList<>(columns);
    named.addAll(change.includedColumns());
    Identifier name =
        change
            .name()
            .map(names::kept)
            .orElseGet(
                () ->
                    names.unique(
                        table.name(),
                        named,
                        n -> isConstraintTaken(table, n) && !givesWay(table, n, columns)));
    if (givesWay(table, name, columns)) {
      letGo(table, name, name);
    }
    addKey(
        table,
        ConstraintKind.UNIQUE,
        name,
        change.name().isPresent(),
        key,
        change.includedColumns(),
        change.usingIndex(),
        change.clustered(),
        change.location());
  }

  private void addKey(
      TableState table,
      ConstraintKind kind,
      Identifier name,
      boolean named,
      List<KeyColumn> key,
      List<Identifier> included,
      Optional<Identifier> usingIndex,
      boolean clustered,
      SourceLocation location) {
    IndexOrigin origin =
        kind == ConstraintKind.PRIMARY_KEY
            ? IndexOrigin.PRIMARY_KEY
            : IndexOrigin.UNIQUE_CONSTRAINT;
    List<Identifier> columns = plainColumns(key);
    Optional<Index> existing =
        servingIndex(table, kind == ConstraintKind.PRIMARY_KEY, key, columns, usingIndex)
            .filter(index -> !isRowIndex(index));
    if (existing.isPresent()) {
      Index index = existing.get().withOrigin(origin);
      table.putIndex(index);
      boolean takesName =
          usingIndex.isPresent() && rules.naming().value() == Naming.TABLE_AND_COLUMNS;
      addConstraint(
          table, kind, name, named, columns, Optional.of(index.name()), takesName, location);
      if (takesName && named && !index.name().equals(name)) {
        table.renameIndex(index.name(), name);
      }
      return;
    }
    Identifier indexName =
        names.forKey(
            table.name(),
            name,
            named,
            kind == ConstraintKind.PRIMARY_KEY,
            (int) table.indexes().stream().filter(i -> !isRowIndex(i)).count(),
            n -> state.hasIndex(table, n));
    Index index = keyIndex(table, indexName, key, included, clustered, origin, location);
    if (table.index(indexName).isPresent()) {
      state.note(location, "constraint: table " + table.name() + " has an index " + indexName);
      return;
    }
    table.putIndex(index);
    addConstraint(
        table, kind, name, named, columns, Optional.of(indexName), /* ownsIndex= */ true, location);
    retireImplicit(table, index);
  }

  private static boolean isRowIndex(Index index) {
    return index.name().equals(ROW);
  }

  private Optional<Index> servingIndex(
      TableState table,
      boolean primary,
      List<KeyColumn> key,
      List<Identifier> columns,
      Optional<Identifier> usingIndex) {
    Optional<Index> named = usingIndex.flatMap(table::index);
    if (named.isPresent()) {
      return named;
    }
    return switch (rules.constraintIndex().value()) {
      case OWN ->
          rules.repeatedKey().value() == RepeatedKey.MERGED
              ? table.indexes().stream()
                  .filter(index -> index.origin().isConstraint() && index.keyColumns().equals(key))
                  .findFirst()
              : Optional.empty();
      case UNIQUE_TAKES_UNIQUE -> primary ? Optional.empty() : uniqueIndex(table, columns);
      case TAKES_UNIQUE -> uniqueIndex(table, columns);
      case ANY_LEADING ->
          table.indexes().stream()
              .filter(index -> IndexEdits.leadsWithAnyOrder(index, columns))
              .findFirst();
    };
  }

  private static Optional<Index> uniqueIndex(TableState table, List<Identifier> columns) {
    return table.indexes().stream()
        .filter(
            index ->
                index.unique()
                    && index.keyColumns().size() == columns.size()
                    && IndexEdits.leadsWithAnyOrder(index, columns))
        .findFirst();
  }

  /**
   * True for an index made for a foreign key that a key on these columns replaces: its name is free
   * again (observed on MariaDB 11.4.5).
   */
  private boolean givesWay(TableState table, Identifier name, List<Identifier> columns) {
    return rules.implicitIndexGivesWay().value()
        && table
            .index(name)
            .filter(index -> index.origin() == IndexOrigin.FOREIGN_KEY)
            .map(index -> plainColumns(index.keyColumns()))
            .filter(own -> own.size() <= columns.size())
            .filter(own -> columns.subList(0, own.size()).equals(own))
            .isPresent();
  }

  /** Removes an index; the constraints that it serves are served by its successor from then on. */
  private static void letGo(TableState table, Identifier index, Identifier successor) {
    table.removeIndex(index);
    for (Constraint constraint : table.constraints()) {
      if (constraint.index().filter(index::equals).isPresent()) {
        table.replaceConstraint(
            constraint, constraint.withIndex(Optional.of(successor), /* owns= */ false));
      }
    }
  }

  /** Lets go of indexes made for foreign keys which the new index can serve. */
  void retireImplicit(TableState table, Index added) {
    if (!rules.implicitIndexGivesWay().value()) {
      return;
    }
    for (Index index : table.indexes()) {
      if (index.origin() == IndexOrigin.FOREIGN_KEY
          && !index.name().equals(added.name())
          && IndexEdits.leadsWith(added, plainColumns(index.keyColumns()))) {
        letGo(table, index.name(), added.name());
      }
    }
  }

  private static Index keyIndex(
      TableState table,
      Identifier name,
      List<KeyColumn> key,
      List<Identifier> included,
      boolean clustered,
      IndexOrigin origin,
      SourceLocation location) {
    return new Index(
        name,
        table.name(),
        /* unique= */ true,
        key,
        included,
        Optional.empty(),
        Optional.empty(),
        IndexMethod.BTREE,
        clustered,
        origin,
        location);
  }

  private static void addConstraint(
      TableState table,
      ConstraintKind kind,
      Identifier name,
      boolean named,
      List<Identifier> columns,
      Optional<Identifier> index,
      boolean ownsIndex,
      SourceLocation location) {
    table.addConstraint(
        new Constraint(
            kind, name, named, columns, Optional.empty(), List.of(), index, ownsIndex, location));
  }
}
