package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.ForeignKey;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/** A table while changes are being folded. */
final class TableState {
  private Identifier name;
  private Identifier id;
  private Optional<Identifier> schemaName;
  private final SourceLocation location;
  private boolean columnsKnown;
  private final NameRegistry indexNames;
  private final NameRegistry constraintNames;
  private final List<Column> columns = new ArrayList<>();
  private final List<Constraint> constraints = new ArrayList<>();
  private final Map<Identifier, Index> indexes = new LinkedHashMap<>();
  private final List<Identifier> partitions = new ArrayList<>();
  private final Set<Identifier> notNullByKey = new LinkedHashSet<>();
  private final List<Constraint> switchedOff = new ArrayList<>();
  private long rows;
  private boolean rowsKnown = true;

  TableState(
      Identifier name,
      Optional<Identifier> schemaName,
      boolean columnsKnown,
      SourceLocation location,
      NameRegistry indexNames,
      NameRegistry constraintNames) {
    this.name = name;
    this.id = name;
    this.indexNames = indexNames;
    this.constraintNames = constraintNames;
    this.schemaName = schemaName;
    this.columnsKnown = columnsKnown;
    this.location = location;
  }

  Identifier name() {
    return name;
  }

  /** The name under which it is known: with its schema where another table has the same name. */
  Identifier id() {
    return id;
  }

  Optional<Identifier> schemaName() {
    return schemaName;
  }

  void knownAs(Identifier newId) {
    id = newId;
  }

  void moveTo(Optional<Identifier> schema) {
    schemaName = schema;
  }

  void replacePartition(Identifier from, Identifier to) {
    partitions.replaceAll(partition -> partition.equals(from) ? to : partition);
  }

  void rename(Identifier newName) {
    name = newName;
    indexes.replaceAll((indexName, index) -> IndexEdits.onTable(index, newName));
  }

  Optional<Column> column(Identifier column) {
    return columns.stream().filter(candidate -> candidate.name().equals(column)).findFirst();
  }

  /** True where the column is there, or where it may be because the columns are not known. */
  boolean mayHave(Identifier column) {
    return !columnsKnown || column(column).isPresent();
  }

  boolean columnsKnown() {
    return columnsKnown;
  }

  /** From here on, its columns are these besides those that it has. */
  void learnColumns(List<Column> all) {
    for (Column column : all) {
      if (column(column.name()).isEmpty()) {
        columns.add(column);
      }
    }
    columnsKnown = true;
  }

  List<Column> columns() {
    return List.copyOf(columns);
  }

  /** Tables that follow this one in columns and indexes. */
  List<Identifier> partitions() {
    return List.copyOf(partitions);
  }

  void removePartition(Identifier partition) {
    partitions.remove(partition);
  }

  void addPartition(Identifier partition) {
    partitions.add(partition);
  }

  void addColumn(Column column) {
    columns.add(column);
  }

  /** Remembers that it is the primary key alone that keeps NULL out of a column. */
  void keyForbidsNull(Identifier column) {
    notNullByKey.add(column);
  }

  boolean isNotNullByKey(Identifier column) {
    return notNullByKey.contains(column);
  }

  /** From now on the column holds no NULL, with or without a key. */
  void forbidsNull(Identifier column) {
    notNullByKey.remove(column);
  }

  /** Lets the columns hold NULL again from which only the primary key kept it out. */
  void freeKeyColumns() {
    columns.replaceAll(
        column ->
            notNullByKey.contains(column.name())
                ? new Column(column.name(), column.type(), true, column.collation())
                : column);
    notNullByKey.clear();
  }

  void replaceColumn(Identifier old, Column changed) {
    if (!old.equals(changed.name()) && notNullByKey.remove(old)) {
      notNullByKey.add(changed.name());
    }
    columns.replaceAll(column -> column.name().equals(old) ? changed : column);
  }

  void removeColumn(Identifier column) {
    columns.removeIf(candidate -> candidate.name().equals(column));
  }

  List<Constraint> constraints() {
    return List.copyOf(constraints);
  }

  Optional<Constraint> primaryKey() {
    return constraints.stream().filter(Constraint::isPrimaryKey).findFirst();
  }

  Optional<Constraint> constraint(Predicate<Constraint> wanted) {
    return constraints.stream().filter(wanted).findFirst();
  }

  void addConstraint(Constraint constraint) {
    constraintNames.add(constraint.name(), this);
    constraints.add(constraint);
  }

  /** From now on the constraint counts as the youngest. */
  void madeAnew(Constraint constraint) {
    constraints.remove(constraint);
    constraints.add(constraint);
  }

  void replaceConstraint(Constraint old, Constraint changed) {
    constraintNames.remove(old.name(), this);
    constraintNames.add(changed.name(), this);
    constraints.replaceAll(constraint -> constraint.equals(old) ? changed : constraint);
  }

  void removeConstraint(Constraint constraint) {
    constraintNames.remove(constraint.name(), this);
    constraints.remove(constraint);
  }

  /** Remembers a constraint that is gone until it is switched on again. */
  void switchedOff(Constraint constraint) {
    switchedOff.add(constraint);
  }

  /** A constraint that is switched off, which is forgotten with that. */
  Optional<Constraint> takeSwitchedOff(Predicate<Constraint> wanted) {
    Optional<Constraint> found = switchedOff.stream().filter(wanted).findFirst();
    found.ifPresent(switchedOff::remove);
    return found;
  }

  List<Index> indexes() {
    return List.copyOf(indexes.values());
  }

  Optional<Index> index(Identifier index) {
    return Optional.ofNullable(indexes.get(index));
  }

  void putIndex(Index index) {
    indexNames.add(index.name(), this);
    indexes.put(index.name(), index);
  }

  void removeIndex(Identifier index) {
    indexNames.remove(index, this);
    indexes.remove(index);
  }

  void renameIndex(Identifier from, Identifier to) {
    Index index = indexes.remove(from);
    indexNames.remove(from, this);
    indexNames.add(to, this);
    indexes.put(to, IndexEdits.renamed(index, to));
    constraints.replaceAll(
        constraint ->
            constraint.index().filter(from::equals).isPresent()
                ? constraint.withIndex(Optional.of(to), constraint.ownsIndex())
                : constraint);
  }

  /** Lets go of all names, when the table goes. */
  void dropped() {
    indexes.keySet().forEach(index -> indexNames.remove(index, this));
    constraints.forEach(constraint -> constraintNames.remove(constraint.name(), this));
  }

  long rows() {
    return rows;
  }

  /** False once rows came or went of which nobody can say how many. */
  boolean rowsKnown() {
    return rowsKnown;
  }

  /** Starts to count anew; for good without a result when it is not known how many are left. */
  void forgetRows(boolean unknown) {
    rows = 0;
    rowsKnown = !unknown;
  }

  void addRows(long more) {
    rows += more;
  }

  Table toTable() {
    List<ForeignKey> foreignKeys = new ArrayList<>();
    for (Constraint constraint : constraints) {
      if (constraint.isForeignKey()) {
        foreignKeys.add(
            new ForeignKey(
                constraint.named() ? Optional.of(constraint.name()) : Optional.empty(),
                constraint.columns(),
                constraint.referencedTable().orElseThrow(),
                constraint.referencedColumns(),
                constraint.location()));
      }
    }
    return new Table(
        id,
        schemaName,
        allColumns(),
        primaryKey().map(Constraint::columns).orElse(List.of()),
        foreignKeys,
        indexes().stream()
            .map(index -> id.equals(name) ? index : IndexEdits.onTable(index, id))
            .toList(),
        location);
  }

  /** The known columns; where these are not all known, those that indexes speak of as well. */
  private List<Column> allColumns() {
    if (columnsKnown) {
      return columns;
    }
    Set<Identifier> mentioned = new LinkedHashSet<>();
    indexes.values().forEach(index -> mentioned.addAll(IndexEdits.columns(index)));
    List<Column> all = new ArrayList<>(columns);
    for (Identifier column : mentioned) {
      if (column(column).isEmpty()) {
        all.add(new Column(column, ColumnType.UNKNOWN, true, Optional.empty()));
      }
    }
    return all;
  }
}
