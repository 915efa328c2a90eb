package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.List;
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
    problems.addAll(
        new Misfits(schema, it -> !classes.isOwn(DotName.createSimple(it.className())))
            .of(entities));
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
        hits += Misfits.has(schema, column) ? 1 : 0;
      }
    }
    return hits;
  }
}
