package dev.colonnade.schema.change;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.View;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What the changes seen so far have led to. */
final class FoldState {
  final Map<Identifier, TableState> tables = new HashMap<>();
  final NameRegistry indexes = new NameRegistry();
  final NameRegistry constraints = new NameRegistry();
  final Map<Identifier, View> views = new HashMap<>();
  final List<NotUnderstood> notUnderstood = new ArrayList<>();

  /** False once something ran that may have put rows anywhere. */
  boolean rowsCertain = true;

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
    if (table == null) {
      note(location, purpose + ": no table " + name + " at this point");
    }
    return Optional.ofNullable(table);
  }

  /** True when some index of the schema has that name. */
  boolean hasIndex(Identifier name) {
    return !indexes.tablesOf(name).isEmpty();
  }

  /** True when some constraint of the schema has that name. */
  boolean hasConstraint(Identifier name) {
    return !constraints.tablesOf(name).isEmpty();
  }

  /** The table that owns the index; the named one first, then any other. */
  Optional<TableState> tableOfIndex(Optional<Identifier> table, Identifier index) {
    Optional<TableState> named = table.map(tables::get);
    if (named.isPresent() && named.get().index(index).isPresent()) {
      return named;
    }
    return indexes.tablesOf(index).stream().findFirst();
  }

  /** True when a table, view, index or constraint of the schema has that name. */
  boolean isTaken(Identifier name) {
    return tables.containsKey(name)
        || views.containsKey(name)
        || hasIndex(name)
        || hasConstraint(name);
  }
}
