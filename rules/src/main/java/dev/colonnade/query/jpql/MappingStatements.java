package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Attribute.ToMany;
import dev.colonnade.mapping.Attribute.ToOne;
import dev.colonnade.mapping.ColumnPair;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Fetching.Removal;
import dev.colonnade.mapping.Link;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;

/**
 * The statements that an object-relational mapping sends without anybody having written them: an
 * entity is read by its key, a collection or an inverse reference is loaded, rows that have changed
 * are written, rows go with the row that they belong to. Each has the id {@code Entity#load},
 * {@code Entity.attribute} or the like.
 */
public final class MappingStatements {
  private final Mapping mapping;
  private final String database;

  /**
   * The statements of a mapping.
   *
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public MappingStatements(Mapping mapping, String database) {
    this.mapping = mapping;
    this.database = database;
  }

  /** How a row of an entity is read by its identifier. */
  public JpqlResult load(Entity entity) {
    return written(it -> List.of(new Loads(it).entity(entity, entity.idColumns())));
  }

  /** How a row that has been read is deleted. */
  public JpqlResult delete(Entity entity) {
    return written(it -> new RowChanges(it).delete(entity));
  }

  /**
   * The statements of one entity, by what follows its class in their ids.
   *
   * @param deleted true where its rows are known to be deleted
   */
  public Map<String, JpqlResult> of(Entity entity, boolean deleted) {
    Map<String, JpqlResult> result = new LinkedHashMap<>();
    if (entity.id().isEmpty()) {
      return result;
    }
    result.put("#load", load(entity));
    if (!entity.upkeep().naturalId().isEmpty()) {
      List<Attribute> natural = new ArrayList<>();
      entity.upkeep().naturalId().forEach(name -> entity.attributeAt(name).ifPresent(natural::add));
      List<MappedColumn> by = Entity.columnsOf(natural);
      result.put("#natural-id", written(it -> List.of(new Loads(it).entity(entity, by))));
    }
    add(result, "#update", it -> new RowChanges(it).update(entity));
    if (deleted) {
      add(result, "#delete", it -> new RowChanges(it).delete(entity));
    }
    entity
        .upkeep()
        .keyTable()
        .ifPresent(keys -> add(result, "#next-id", it -> new RowChanges(it).nextKey(keys)));
    Set<String> above = new TreeSet<>();
    entity
        .parent()
        .flatMap(mapping::ofClass)
        .ifPresent(parent -> parent.attributes().forEach(it -> above.add(it.name())));
    for (Attribute attribute : entity.attributes()) {
      if (!above.contains(attribute.name())) {
        attribute(entity, attribute, "." + attribute.name(), result);
      }
    }
    return result;
  }

  private void attribute(
      Entity owner, Attribute attribute, String suffix, Map<String, JpqlResult> result) {
    if (attribute instanceof Attribute.Embedded embedded) {
      embedded.attributes().forEach(it -> attribute(owner, it, suffix + "." + it.name(), result));
    } else if (attribute instanceof ToOne one && !isByIdentifier(one)) {
      result.put(suffix, written(it -> List.of(new Loads(it).reference(owner, one))));
    } else if (attribute instanceof ToMany many) {
      result.put(suffix, written(it -> List.of(new Loads(it).collection(owner, many))));
      if (many.link() instanceof Link.Inverse) {
        return;
      }
      Statement statement = new Statement(mapping, database);
      new RowChanges(statement)
          .collection(owner, many)
          .forEach(
              (kind, sql) -> result.put(suffix + kind, new JpqlResult.Translated(sql, List.of())));
    }
  }

  /** True where the target is read by its identifier, which is the target's own statement. */
  private boolean isByIdentifier(ToOne one) {
    Optional<Entity> target = mapping.ofClass(one.target());
    if (target.isEmpty()) {
      return true;
    }
    List<Identifier> ids = target.get().idColumns().stream().map(MappedColumn::name).toList();
    if (one.link() instanceof Link.OwnColumns own) {
      return Set.copyOf(own.pairs().stream().map(ColumnPair::referenced).toList())
          .equals(Set.copyOf(ids));
    }
    return one.link() instanceof Link.ByFormula formula
        ? ids.equals(List.of(formula.referenced()))
        : one.link() instanceof Link.ThroughTable;
  }

  private void add(
      Map<String, JpqlResult> result, String id, Function<Statement, List<String>> sql) {
    JpqlResult written = written(sql);
    if (!(written instanceof JpqlResult.Translated translated) || !translated.sql().isEmpty()) {
      result.put(id, written);
    }
  }

  private JpqlResult written(Function<Statement, List<String>> sql) {
    try {
      return FilterVariants.of(mapping, database, sql);
    } catch (UntranslatableException e) {
      return new JpqlResult.NotTranslated(e.getMessage(), 1, 1);
    }
  }

  /**
   * The entities whose rows are deleted when those of the given ones are: themselves, what lies in
   * further tables of their hierarchy, what goes with them, and what goes when it leaves its owner.
   */
  public Set<Entity> deletedWith(Set<Entity> given) {
    Map<String, Entity> result = new LinkedHashMap<>();
    given.forEach(it -> add(it, result));
    for (Entity owner : mapping.entities()) {
      for (Attribute attribute : owner.attributes()) {
        removed(attribute)
            .filter(it -> removal(attribute) == Removal.WHEN_LEFT)
            .ifPresent(it -> add(it, result));
      }
    }
    return Set.copyOf(result.values());
  }

  private void add(Entity entity, Map<String, Entity> result) {
    if (result.putIfAbsent(entity.className(), entity) != null) {
      return;
    }
    mapping.subtypes(entity).forEach(it -> add(it, result));
    for (Optional<Entity> above = entity.parent().flatMap(mapping::ofClass);
        above.isPresent();
        above = above.get().parent().flatMap(mapping::ofClass)) {
      result.putIfAbsent(above.get().className(), above.get());
    }
    for (Attribute attribute : entity.attributes()) {
      removed(attribute).ifPresent(it -> add(it, result));
    }
  }

  private static Removal removal(Attribute attribute) {
    return attribute instanceof ToOne one
        ? one.fetching().removal()
        : attribute instanceof ToMany many ? many.traits().fetching().removal() : Removal.NEVER;
  }

  /** What is deleted because of the attribute. */
  private Optional<Entity> removed(Attribute attribute) {
    if (removal(attribute) == Removal.NEVER) {
      return Optional.empty();
    }
    return attribute instanceof ToOne one
        ? mapping.ofClass(one.target())
        : ((ToMany) attribute).target().flatMap(mapping::ofClass);
  }
}
