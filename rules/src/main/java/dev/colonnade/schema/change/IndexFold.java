package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.SchemaRules.Naming;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.change.ConstraintChange.DropAllForeignKeys;
import dev.colonnade.schema.change.ConstraintChange.RenameConstraint;
import dev.colonnade.schema.change.IndexChange.CreateIndex;
import dev.colonnade.schema.change.IndexChange.DropIndex;
import dev.colonnade.schema.change.IndexChange.RenameIndex;
import dev.colonnade.schema.change.SchemaChange.ConstraintKind;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/** Applies created and dropped indexes, and dropped and renamed constraints. */
final class IndexFold {
  private final FoldState state;
  private final SchemaRules rules;
  private final KeyFold keys;
  private final DroppedParts drops;
  private final boolean varcharIsText;

  IndexFold(FoldState state, SchemaRules rules, KeyFold keys, boolean varcharIsText) {
    this.state = state;
    this.varcharIsText = varcharIsText;
    this.rules = rules;
    this.keys = keys;
    this.drops = new DroppedParts(rules);
  }

  void create(CreateIndex written) {
    CreateIndex change = varcharIsText ? plain(written) : written;
    Optional<TableState> found = state.table(change.table(), change.location(), "create index");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    Set<Identifier> columns = new LinkedHashSet<>(KeyFold.plainColumns(change.keyColumns()));
    columns.addAll(change.includedColumns());
    change
        .predicate()
        .ifPresent(
            predicate -> predicate.columns().forEach(column -> columns.add(column.column())));
    if (!keys.columnsExist(table, columns, change.location(), "create index")) {
      return;
    }
    if (change.name().isPresent() && nameInUse(table, keys.names().kept(change.name().get()))) {
      if (!change.ifNotExists()) {
        state.note(
            change.location(), "create index: an index " + change.name().get() + " exists already");
      }
      return;
    }
    if (!rules.repeatedIndexMade().value() && isRepeated(table, change)) {
      return;
    }
    Identifier name =
        change
            .name()
            .map(keys.names()::kept)
            .orElseGet(
                () ->
                    keys.names()
                        .created(
                            table.name(),
                            change.keyColumns(),
                            change.includedColumns(),
                            n -> keys.isTaken(table, n)));
    Index index =
        new Index(
            name,
            table.name(),
            change.unique(),
            change.keyColumns().stream().map(part -> withoutWholePrefix(table, part)).toList(),
            change.includedColumns(),
            change.predicate(),
            change.predicateText(),
            change.method(),
            change.clustered(),
            IndexOrigin.CREATE_INDEX,
            change.location());
    table.putIndex(index);
    keys.retireImplicit(table, index);
  }

  private CreateIndex plain(CreateIndex change) {
    TableState table = state.tables.get(change.table());
    if (table == null) {
      return change;
    }
    PlainText text = new PlainText(table);
    return new CreateIndex(
        change.name(),
        change.table(),
        change.unique(),
        change.keyColumns().stream().map(text::of).toList(),
        change.includedColumns(),
        change.predicate().map(predicate -> Conditions.mapValues(predicate, text::of)),
        change.predicateText(),
        change.method(),
        change.clustered(),
        change.ifNotExists(),
        change.location());
  }

  /**
   * A prefix as long as the column is the column: MariaDB 11.4.5 lists it without a length
   * (observed).
   */
  private static KeyColumn withoutWholePrefix(TableState table, KeyColumn part) {
    OptionalInt length =
        part.column()
            .flatMap(table::column)
            .map(column -> column.type().length())
            .orElse(OptionalInt.empty());
    boolean whole =
        part.prefixLength().isPresent()
            && length.isPresent()
            && part.prefixLength().getAsInt() >= length.getAsInt();
    return whole
        ? new KeyColumn(
            part.value(),
            part.descending(),
            part.nulls(),
            OptionalInt.empty(),
            part.operatorClass(),
            part.collation())
        : part;
  }

  private static boolean isRepeated(TableState table, CreateIndex change) {
    return table.indexes().stream()
        .anyMatch(
            index ->
                index.keyColumns().equals(change.keyColumns())
                    && (!change.unique() || (index.unique() && !admitsNulls(table, index))));
  }

  /** A unique constraint lets NULL occur twice where the column can hold it; an index does not. */
  private static boolean admitsNulls(TableState table, Index index) {
    return index.origin() == IndexOrigin.UNIQUE_CONSTRAINT
        && KeyFold.plainColumns(index.keyColumns()).stream()
            .anyMatch(column -> table.column(column).filter(Column::nullable).isPresent());
  }

  private boolean nameInUse(TableState table, Identifier name) {
    return rules.indexNamesPerTable().value()
        ? table.index(name).isPresent()
        : state.hasIndex(table, name);
  }

  void drop(DropIndex change) {
    Identifier name = keys.names().kept(change.name());
    Optional<TableState> table = state.tableOfIndex(change.table(), name);
    if (table.isEmpty()) {
      if (!change.ifExists()) {
        state.note(change.location(), "drop index: no index " + change.name() + " at this point");
      }
      return;
    }
    DroppedParts.index(table.get(), name);
  }

  void reverse(ReverseIndex change) {
    Optional<TableState> table = state.tableOfIndex(change.schema(), change.name());
    Optional<Index> index = table.flatMap(found -> found.index(change.name()));
    if (index.isEmpty()) {
      state.note(change.location(), "rebuild index: no index " + change.name() + " at this point");
      return;
    }
    IndexMethod method = change.reverse() ? IndexMethod.REVERSE : IndexMethod.BTREE;
    table.get().putIndex(index.get().withMethod(method));
  }

  void rename(RenameIndex change) {
    Identifier from = keys.names().kept(change.from());
    Identifier to = keys.names().kept(change.to());
    Optional<TableState> table = state.tableOfIndex(change.table(), from);
    if (table.isEmpty()) {
      if (!change.ifExists()) {
        state.note(change.location(), "rename index: no index " + change.from() + " at this point");
      }
      return;
    }
    table.get().renameIndex(from, to);
    if (rules.implicitIndexGivesWay().value()) {
      ownedByItsNamer(table.get(), to);
    }
    if (indexNamedAsConstraint()) {
      table
          .get()
          .constraint(
              constraint ->
                  constraint.name().equals(from)
                      && constraint.index().filter(to::equals).isPresent())
          .ifPresent(
              constraint -> table.get().replaceConstraint(constraint, constraint.withName(to)));
    }
  }

  /**
   * An index made for a foreign key no longer gives way to others once somebody has named it
   * (observed on MariaDB 11.4.5).
   */
  private static void ownedByItsNamer(TableState table, Identifier name) {
    table
        .index(name)
        .filter(index -> index.origin() == IndexOrigin.FOREIGN_KEY)
        .ifPresent(index -> table.putIndex(index.withOrigin(IndexOrigin.CREATE_INDEX)));
  }

  private boolean indexNamedAsConstraint() {
    return rules.naming().value() == Naming.TABLE_AND_COLUMNS
        || rules.naming().value() == Naming.FIRST_COLUMN;
  }

  void drop(DropConstraint change) {
    Optional<TableState> found = state.table(change.table(), change.location(), "drop constraint");
    if (found.isEmpty()) {
      return;
    }
    TableState table = found.get();
    Optional<Constraint> constraint = table.constraint(candidate -> matches(candidate, change));
    if (constraint.isEmpty() && change.name().isPresent() && goesByName(change)) {
      if (table.constraint(candidate -> isNamed(candidate, change)).isEmpty()) {
        table = tableOfConstraint(change.name().get()).orElse(table);
      }
      constraint = table.constraint(candidate -> isNamed(candidate, change));
    }
    if (constraint.isPresent()) {
      drop(change, table, constraint.get());
    } else if (table.takeSwitchedOff(candidate -> matches(candidate, change)).isEmpty()
        && !dropUniqueIndex(table, change)
        && !change.ifExists()
        && change.kind() != ConstraintKind.ANY) {
      state.note(
          change.location(),
          "drop constraint: table "
              + table.name()
              + " has no "
              + label(change.kind())
              + change.name().map(name -> " " + name).orElse("")
              + " at this point");
    }
  }

  private void drop(DropConstraint change, TableState table, Constraint constraint) {
    if (change.cascade()) {
      for (TableState other : state.tables.values()) {
        drops.constraints(other, reference -> refersTo(reference, table, constraint));
      }
    }
    drop(table, constraint, change.keepsIndex());
  }

  /** A constraint goes; its own index goes with it or stays. */
  void drop(TableState table, Constraint constraint, boolean keepsIndex) {
    if (keepsIndex) {
      Constraint keeping = constraint.withIndex(constraint.index(), /* owns= */ false);
      table.replaceConstraint(constraint, keeping);
      drops.constraint(table, keeping);
    } else {
      drops.constraint(table, constraint);
    }
  }

  /** True for a foreign key that refers to that key of that table. */
  static boolean refersTo(Constraint reference, TableState table, Constraint key) {
    return reference.isForeignKey()
        && reference.refersTo(table.id())
        && (reference.referencedColumns().isEmpty()
            ? key.isPrimaryKey()
            : reference.referencedColumns().equals(key.columns()));
  }

  private Optional<TableState> tableOfConstraint(Identifier name) {
    return rules.constraintOfAnyTable().value()
        ? state.constraints.tablesOf(keys.names().kept(name)).stream().findFirst()
        : Optional.empty();
  }

  void drop(DropUniqueKey change) {
    Optional<TableState> table = state.table(change.table(), change.location(), "drop constraint");
    if (table.isEmpty()) {
      return;
    }
    Optional<Constraint> constraint =
        table
            .get()
            .constraint(
                candidate ->
                    candidate.kind() == ConstraintKind.UNIQUE
                        && candidate.columns().equals(change.columns()));
    if (constraint.isPresent()) {
      drops.constraint(table.get(), constraint.get());
    } else {
      state.note(
          change.location(),
          "drop constraint: table "
              + change.table()
              + " has no unique constraint on "
              + change.columns()
              + " at this point");
    }
  }

  private boolean matches(Constraint candidate, DropConstraint change) {
    if (change.kind() == ConstraintKind.PRIMARY_KEY) {
      return candidate.isPrimaryKey();
    }
    return (change.kind() == ConstraintKind.ANY || change.kind() == candidate.kind())
        && isNamed(candidate, change);
  }

  private boolean isNamed(Constraint candidate, DropConstraint change) {
    return change.name().map(keys.names()::kept).filter(candidate.name()::equals).isPresent();
  }

  /**
   * Where constraints of all kinds go by DROP CONSTRAINT, that is what Liquibase sends, and the
   * name alone tells which.
   */
  private boolean goesByName(DropConstraint change) {
    return change.kind() == ConstraintKind.ANY || rules.naming().value() != Naming.FIRST_COLUMN;
  }

  /** Where constraints are nothing but indexes, a unique index goes by the same statement. */
  private boolean dropUniqueIndex(TableState table, DropConstraint change) {
    if (rules.naming().value() != Naming.FIRST_COLUMN || change.name().isEmpty()) {
      return false;
    }
    Optional<Index> index = table.index(change.name().get()).filter(Index::unique);
    index.ifPresent(unique -> DroppedParts.index(table, unique.name()));
    return index.isPresent();
  }

  private static String label(ConstraintKind kind) {
    return switch (kind) {
      case PRIMARY_KEY -> "primary key";
      case UNIQUE -> "unique constraint";
      case FOREIGN_KEY -> "foreign key";
      case ANY -> "constraint";
    };
  }

  /** Of a table that is not there, there are none: Liquibase sends nothing then. */
  void drop(DropAllForeignKeys change) {
    Optional.ofNullable(state.tables.get(change.table()))
        .ifPresent(table -> drops.constraints(table, Constraint::isForeignKey));
  }

  void rename(RenameConstraint change) {
    Optional<TableState> found =
        state.table(change.table(), change.location(), "rename constraint");
    if (found.isEmpty()) {
      return;
    }
    Identifier from = keys.names().kept(change.from());
    Identifier to = keys.names().kept(change.to());
    TableState table = found.get();
    Optional<Constraint> constraint = table.constraint(candidate -> candidate.name().equals(from));
    if (constraint.isEmpty()) {
      return;
    }
    table.replaceConstraint(constraint.get(), constraint.get().withName(to));
    boolean follows =
        rules.naming().value() == Naming.TABLE_AND_COLUMNS
            || rules.naming().value() == Naming.CONSTRAINT;
    if (follows && constraint.get().index().filter(from::equals).isPresent()) {
      table.renameIndex(from, to);
    }
  }
}
