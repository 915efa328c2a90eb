package dev.colonnade.schema;

import dev.colonnade.predicate.Identifier;
import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Tables as they stand after the last change set, sorted by name. */
public final class Schema {
  /** A schema without tables. */
  public static final Schema EMPTY = new Schema(List.of(), List.of());

  private final Map<Identifier, Table> tables;
  private final Map<Identifier, View> views;

  /** Two tables of one name: the later one stands. */
  public Schema(Collection<Table> tables, Collection<View> views) {
    Map<Identifier, Table> byName = new TreeMap<>();
    tables.forEach(table -> byName.put(table.name(), table));
    Map<Identifier, View> viewsByName = new TreeMap<>();
    views.forEach(view -> viewsByName.put(view.name(), view));
    this.tables = Collections.unmodifiableMap(byName);
    this.views = Collections.unmodifiableMap(viewsByName);
  }

  /** All tables, sorted by name. */
  public Collection<Table> tables() {
    return tables.values();
  }

  /** All views, sorted by name. */
  public Collection<View> views() {
    return views.values();
  }

  /**
   * The table of that name. A name with a schema finds the table that is told apart by it, else the
   * one of the name alone: the default schema's, or the only one.
   */
  public Optional<Table> table(Identifier name) {
    return find(tables, name);
  }

  /** The view of that name, found as tables are. */
  public Optional<View> view(Identifier name) {
    return find(views, name);
  }

  private static <T> Optional<T> find(Map<Identifier, T> all, Identifier name) {
    T exact = all.get(name);
    return Optional.ofNullable(exact == null ? all.get(name.unqualified()) : exact);
  }

  /** The schema with one table put in place of the one of its name. */
  public Schema with(Table table) {
    Map<Identifier, Table> changed = new TreeMap<>(tables);
    changed.put(table.name(), table);
    return new Schema(changed.values(), views.values());
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Schema schema
        && tables.equals(schema.tables)
        && views.equals(schema.views);
  }

  @Override
  public int hashCode() {
    return tables.hashCode() * 31 + views.hashCode();
  }
}
