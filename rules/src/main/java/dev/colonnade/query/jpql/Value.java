package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.ValueType;
import java.util.List;
import java.util.Optional;

/** What an expression over entities is in SQL. */
sealed interface Value {
  /**
   * Columns or expressions, several where the value is an embedded one.
   *
   * @param type what the single column holds, as far as known
   */
  record Columns(List<String> sql, Optional<ValueType> type) implements Value {
    public Columns {
      sql = List.copyOf(sql);
    }

    static Columns of(String sql) {
      return new Columns(List.of(sql), Optional.empty());
    }
  }

  /**
   * An entity.
   *
   * @param key the columns that hold its identifier
   * @param use gives its table, joined where it is not yet
   * @param nearest columns that hold the identifier and lie in no further table than needed
   */
  record Reference(
      Entity entity,
      List<String> key,
      java.util.function.Supplier<EntityUse> use,
      List<String> nearest)
      implements Value {
    public Reference {
      key = List.copyOf(key);
      nearest = List.copyOf(nearest);
    }

    Reference(Entity entity, List<String> key, java.util.function.Supplier<EntityUse> use) {
      this(entity, key, use, key);
    }

    /** The same without the entity's own table, where only the identifier is asked for. */
    Reference withoutTable() {
      return new Reference(entity, nearest, use, nearest);
    }
  }

  /** An entity by the columns nearest at hand; any other value as it is. */
  static Value identity(Value value) {
    return value instanceof Reference reference ? reference.withoutTable() : value;
  }

  /** A parameter; one for each column where it stands for an entity or an embedded value. */
  record Parameter(String sql) implements Value {}

  /** A literal of a truth value. */
  record Truth(boolean value) implements Value {}

  /** A name that is no path: a constant of an enum or of a class. */
  record Constant(String name) implements Value {}

  /** A literal of an entity's class. */
  record TypeName(Entity entity) implements Value {}

  /** {@code type(x)}. */
  record TypeOf(EntityUse use) implements Value {}

  /** {@code (a, b)}. */
  record Tuple(List<Value> values) implements Value {
    public Tuple {
      values = List.copyOf(values);
    }
  }
}
