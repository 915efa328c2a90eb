package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jboss.jandex.DotName;

/**
 * Reads the mapping of a service: its entities from class files, the names of tables and columns
 * under one of the naming strategies. Never throws: what does not fit becomes a problem.
 */
public final class MappingReader {
  private final ClassFiles classes;
  private final Schema schema;

  /**
   * A reader.
   *
   * @param classes the service's classes
   * @param schema the tables that its changelog leads to, against which names are held
   */
  public MappingReader(ClassFiles classes, Schema schema) {
    this.classes = classes;
    this.schema = schema;
  }

  /** The mapping under a strategy that is known. */
  public MappingReading read(NamingStrategy strategy) {
    Reading reading = new EntityClasses(classes, schema).find(new Names(strategy, schema));
    EntityReader reader = new EntityReader(reading);
    List<Entity> entities = new ArrayList<>();
    for (EntityClass entity : reading.entities.values()) {
      entities.add(reader.read(entity));
    }
    List<NotUnderstood> problems = new ArrayList<>(reading.problems);
    problems.addAll(misfits(entities));
    return new MappingReading(
        new Mapping(entities, reading.enums()), strategy, Optional.empty(), problems);
  }

  /**
   * The mapping under the strategy that gives more names which the schema has. Where they give the
   * same number the written names stand.
   */
  public MappingReading guess() {
    MappingReading written = read(NamingStrategy.JPA);
    MappingReading snake = read(NamingStrategy.SNAKE_CASE);
    int writtenHits = hits(written.mapping());
    int snakeHits = hits(snake.mapping());
    if (written.mapping().entities().isEmpty()) {
      return written;
    }
    boolean isSnake = snakeHits > writtenHits;
    MappingReading better = isSnake ? snake : written;
    String guess =
        "names are taken "
            + (isSnake ? "in snake_case" : "as they are written")
            + ": "
            + Math.max(snakeHits, writtenHits)
            + " of them are in the schema, otherwise "
            + Math.min(snakeHits, writtenHits);
    return new MappingReading(
        better.mapping(), better.naming(), Optional.of(guess), better.problems());
  }

  private int hits(Mapping mapping) {
    int hits = 0;
    for (Entity entity : mapping.entities()) {
      hits += schema.table(entity.table()).isPresent() ? 1 : 0;
      for (MappedColumn column : Entity.columnsOf(entity.attributes())) {
        hits += has(column) ? 1 : 0;
      }
    }
    return hits;
  }

  private boolean has(MappedColumn column) {
    return schema.table(column.table()).flatMap(table -> table.column(column.name())).isPresent();
  }

  private List<NotUnderstood> misfits(List<Entity> entities) {
    List<NotUnderstood> result = new ArrayList<>();
    Map<String, Entity> names = new HashMap<>();
    for (Entity entity : entities) {
      Entity other = names.putIfAbsent(entity.name(), entity);
      if (other != null) {
        result.add(misfit(entity, "another entity, " + other.className() + ", has the same name"));
      }
      if (entity.isAbstract() && entity.inheritance() == Inheritance.TABLE_PER_CLASS) {
        continue;
      }
      if (schema.table(entity.table()).isEmpty() && schema.view(entity.table()).isEmpty()) {
        if (!classes.isOwn(DotName.createSimple(entity.className()))) {
          continue; // A library's entity that this service has no table for.
        }
        result.add(misfit(entity, "its table " + entity.table() + " is not in the schema"));
        continue;
      }
      for (MappedColumn column : Entity.columnsOf(entity.attributes())) {
        if (schema.table(column.table()).isPresent() && !has(column)) {
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
