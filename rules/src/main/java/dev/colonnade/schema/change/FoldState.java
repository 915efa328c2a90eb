package dev.colonnade.schema.change;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.View;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;

/** What the changes seen so far have led to. */
final class FoldState {
  /** By the name under which each is known. */
  final Map<Identifier, TableState> tables = new HashMap<>();

  private final NameRegistry named = new NameRegistry();
  private final Optional<Identifier> defaultSchema;
  final NameRegistry indexes = new NameRegistry();
  final NameRegistry constraints = new NameRegistry();
  final Map<Identifier, View> views = new HashMap<>();

  /** Tables that go with their connection; another one of the same name is the other one. */
  final Set<Identifier> temporary = new HashSet<>();

  final Set<Identifier> sequences = new HashSet<>();
  final List<NotUnderstood> notUnderstood = new ArrayList<>();

  /** False once something ran that may have put rows anywhere. */
  boolean rowsCertain = true;

  FoldState(Optional<String> defaultSchema) {
    this.defaultSchema = defaultSchema.map(Identifier::new);
  }

  /** The schema that tells a table apart from others; empty for the default one. */
  Optional<Identifier> home(Optional<Identifier> schema) {
    return schema.equals(defaultSchema) ? Optional.empty() : schema;
  }

  /** The tables of a name in all schemas. */
  List<TableState> named(Identifier name) {
    return named.tablesOf(name);
  }

  /** The table of a name in exactly that schema. */
  Optional<TableState> find(Optional<Identifier> schema, Identifier name) {
    return named(name).stream()
        .filter(table -> home(table.schemaName()).equals(home(schema)))
        .findFirst();
  }

  /** True when a table was made in that schema under its name and is still there. */
  boolean isNamedSchema(Optional<Identifier> schema) {
    return tables.values().stream().anyMatch(table -> table.schemaName().equals(schema));
  }

  /** Takes a table in; where another schema has one of its name, both are told apart from now. */
  void add(TableState table) {
    named.add(table.name(), table);
    settle(table.name(), Optional.of(table));
  }

  /** Takes a table out. */
  void remove(TableState table) {
    tables.remove(table.id(), table);
    named.remove(table.name(), table);
    settle(table.name(), Optional.empty());
  }

  private void settle(Identifier name, Optional<TableState> newcomer) {
    List<TableState> all = List.copyOf(named(name));
    all.forEach(table -> tables.remove(table.id(), table));
    Map<Identifier, Identifier> moved = new HashMap<>();
    for (TableState table : all) {
      Identifier id = all.size() == 1 ? name : Identifier.in(home(table.schemaName()), name);
      if (!id.equals(table.id()) && !newcomer.equals(Optional.of(table))) {
        moved.put(table.id(), id);
      }
      table.knownAs(id);
      tables.put(id, table);
    }
    moved.forEach(this::redirect);
  }

  /** References to a table follow it to its other name. */
  void redirect(Identifier from, Identifier to) {
    for (TableState table : tables.values()) {
      table.replacePartition(from, to);
      for (Constraint constraint : table.constraints()) {
        if (constraint.refersTo(from)) {
          table.replaceConstraint(
              constraint, constraint.withReference(to, UnaryOperator.identity()));
        }
      }
    }
  }

  /** Starts a table without columns. */
  TableState newTable(
      Identifier name, Optional<Identifier> schema, boolean columnsKnown, SourceLocation location) {
    return new TableState(name, schema, columnsKnown, location, indexes, constraints);
  }

  void note(SourceLocation location, String reason) {
    notUnderstood.add(new NotUnderstood(location, reason));
  }

  /** The table, or an entry saying that there is none. */
  Optional<TableState> table(Identifier name, SourceLocation location, String purpose) {
    TableState table = tables.get(name);
    if (table == null && !temporary.contains(name.unqualified())) {
      note(location, purpose + ": no table " + name + " at this point");
    }
    return Optional.ofNullable(table);
  }

  /** True when an index in the table's schema has that name. */
  boolean hasIndex(TableState table, Identifier name) {
    return indexes.tablesOf(name).stream().anyMatch(other -> isBeside(other, table));
  }

  /** True when a constraint in the table's schema has that name. */
  boolean hasConstraint(TableState table, Identifier name) {
    return constraints.tablesOf(name).stream().anyMatch(other -> isBeside(other, table));
  }

  private boolean isBeside(TableState other, TableState table) {
    return home(other.schemaName()).equals(home(table.schemaName()));
  }

  /**
   * The table that owns the index: the named one, else one in the schema of that name, else any.
   */
  Optional<TableState> tableOfIndex(Optional<Identifier> table, Identifier index) {
    Optional<TableState> wanted = table.map(tables::get);
    if (wanted.isPresent() && wanted.get().index(index).isPresent()) {
      return wanted;
    }
    List<TableState> owners = indexes.tablesOf(index);
    return owners.stream()
        .filter(owner -> home(owner.schemaName()).equals(home(table)))
        .findFirst()
        .or(() -> owners.stream().findFirst());
  }

  /** True when a table, view, index or constraint in the table's schema has that name. */
  boolean isTaken(TableState table, Identifier name) {
    return find(table.schemaName(), name).isPresent()
        || views.containsKey(name)
        || hasIndex(table, name)
        || hasConstraint(table, name);
  }
}
