package dev.colonnade.mapping.source;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;

/** Holds the tables and columns of entities against the schema. */
final class Misfits {
  private final Schema schema;
  private final Predicate<Entity> borrowed;

  /**
   * A comparison.
   *
   * @param borrowed true for an entity of a library, which a service need not have a table for
   */
  Misfits(Schema schema, Predicate<Entity> borrowed) {
    this.schema = schema;
    this.borrowed = borrowed;
  }

  static boolean has(Schema schema, MappedColumn column) {
    return schema.table(column.table()).flatMap(table -> table.column(column.name())).isPresent();
  }

  /** One entry for each table or column that is not there, and for each name given twice. */
  List<NotUnderstood> of(List<Entity> entities) {
    List<NotUnderstood> result = new ArrayList<>();
    Map<String, Entity> names = new HashMap<>();
    for (Entity entity : entities) {
      Entity other = names.putIfAbsent(entity.name(), entity);
      if (other != null) {
        result.add(misfit(entity, "another entity, " + other.className() + ", has the same name"));
      }
      if (entity.subselect().isPresent()
          || (entity.isAbstract() && entity.inheritance() == Inheritance.TABLE_PER_CLASS)) {
        continue;
      }
      if (schema.table(entity.table()).isEmpty() && schema.view(entity.table()).isEmpty()) {
        if (borrowed.test(entity)) {
          continue;
        }
        result.add(misfit(entity, "its table " + entity.table() + " is not in the schema"));
        continue;
      }
      for (MappedColumn column : Entity.columnsOf(entity.attributes())) {
        if (schema.table(column.table()).isPresent() && !has(schema, column)) {
          result.add(
              misfit(entity, "its column " + column.name() + " is not in table " + column.table()));
        }
      }
    }
    return result;
  }

  private static NotUnderstood misfit(Entity entity, String reason) {
    return new NotUnderstood(entity.location(), "entity " + entity.name() + ": " + reason);
  }
}
