package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;
import java.util.Optional;

/**
 * Finds the tables that changes speak of.
 *
 * <p>A name without a schema is the default schema's table, or the only one of that name. A name
 * with a schema is that schema's table; where that schema has none, the default schema's or the
 * only one is meant, because statements on tables that are not there would have failed.
 */
final class TableNames {
  private final FoldState state;

  TableNames(FoldState state) {
    this.state = state;
  }

  /** The table that a statement means which cannot run without it. */
  Optional<TableState> find(Identifier written) {
    return certain(written).or(() -> Optional.ofNullable(state.tables.get(written.unqualified())));
  }

  /**
   * The table that a question means which may be answered with no. A schema in which no table was
   * made under its name may be the default one.
   */
  Optional<TableState> certain(Identifier written) {
    TableState exact = state.tables.get(written);
    if (exact != null) {
      return Optional.of(exact);
    }
    Optional<Identifier> schema = written.qualifier();
    if (schema.isEmpty()) {
      return Optional.empty();
    }
    Optional<TableState> there = state.find(schema, written.unqualified());
    return there.isPresent() || state.isNamedSchema(schema)
        ? there
        : state.find(Optional.empty(), written.unqualified());
  }

  /** The name under which the table is known, or the written one where there is none. */
  Identifier id(Identifier written) {
    return find(written).map(TableState::id).orElse(written);
  }

  /** The same, for statements that do nothing where the table is not there. */
  Identifier certainId(Identifier written) {
    return certain(written).map(TableState::id).orElse(written);
  }

  /** The name of a new view: with its schema where that tells it apart. */
  Identifier newView(Identifier written) {
    Identifier name = written.unqualified();
    if (state.home(written.qualifier()).isEmpty()) {
      return name;
    }
    boolean taken = state.views.containsKey(name) || !state.named(name).isEmpty();
    return taken ? written : name;
  }

  /** The name under which a view is known. */
  Identifier view(Identifier written) {
    return state.views.containsKey(written) ? written : written.unqualified();
  }

  /** The change with the names under which its tables are known. */
  SchemaChange resolved(SchemaChange change) {
    NamedChange visitor = new NamedChange(this);
    change.accept(visitor);
    return visitor.result();
  }
}
