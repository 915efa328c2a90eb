package dev.colonnade.query.derived;

import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.derived.MethodName.Case;
import dev.colonnade.query.derived.MethodName.Condition;
import dev.colonnade.query.derived.MethodName.Order;
import java.util.ArrayList;
import java.util.List;

/**
 * Turns names of Spring Data's repository methods into JPQL (Spring Data Commons reference,
 * "Defining query methods").
 *
 * <p>Patterns are written out where Spring Data puts the wildcards into the value: {@code
 * StartingWith} becomes {@code like concat(?1, '%')}, so that a pattern which begins with a
 * wildcard can be told from one that does not.
 */
public final class DerivedQueries {
  private final Mapping mapping;

  /** Names are looked up among the attributes of these entities. */
  public DerivedQueries(Mapping mapping) {
    this.mapping = mapping;
  }

  /** True where the name has the form of a query. */
  public static boolean isDerived(String name) {
    return MethodName.hasSubject(name);
  }

  /** The query of a method of a repository of the entity. */
  public DerivedResult read(MethodSignature method, Entity entity) {
    try {
      return new Reading(method, entity, MethodName.read(method.name(), entity, mapping)).read();
    } catch (UnknownNameException e) {
      return new DerivedResult.NotUnderstood(e.getMessage());
    }
  }

  private final class Reading {
    private final MethodSignature method;
    private final Entity entity;
    private final MethodName name;
    private final PathWriter paths = new PathWriter(mapping);
    private int parameters;

    Reading(MethodSignature method, Entity entity, MethodName name) {
      this.method = method;
      this.entity = entity;
      this.name = name;
    }

    DerivedResult read() {
      String where = where();
      String joins = paths.joins();
      String orderBy = order();
      if (parameters > method.values()) {
        throw new UnknownNameException(
            "the name needs " + parameters + " values, the method has " + method.values());
      }
      String from = " from " + entity.name() + " e";
      String distinct = name.distinct() ? "distinct " : "";
      String counted = "select count(" + distinct + "e)" + from + joins + where;
      return new DerivedResult.Understood(
          switch (name.verb()) {
            case COUNT -> counted;
            case EXISTS -> "select id(e)" + from + joins + where + " limit 1";
            case FIND ->
                select()
                    + from
                    + paths.joins()
                    + paths.fetches(method.fetched(), entity)
                    + where
                    + orderBy
                    + limit();
            case DELETE -> "select e" + from + joins + where;
          },
          counted,
          name.verb() == MethodName.Verb.DELETE);
    }

    private String select() {
      String items =
          method.projection().isEmpty()
              ? "e"
              : String.join(", ", method.projection().stream().map(it -> "e." + it).toList());
      return "select " + (name.distinct() ? "distinct " : "") + items;
    }

    private String limit() {
      if (name.limit().isPresent()) {
        return " limit " + name.limit().getAsInt();
      }
      return method.pageable() ? " limit :pageSize offset :pageOffset" : "";
    }

    private String where() {
      List<String> alternatives = new ArrayList<>();
      for (List<Condition> conditions : name.alternatives()) {
        alternatives.add(String.join(" and ", conditions.stream().map(this::condition).toList()));
      }
      return alternatives.isEmpty() ? "" : " where " + String.join(" or ", alternatives);
    }

    private String condition(Condition condition) {
      boolean fold = condition.letters() != Case.KEPT && PathWriter.isText(condition.path().last());
      return Conditions.write(condition.operator(), paths, condition.path(), fold, this::parameter)
          .orElseThrow(
              () ->
                  new UnknownNameException(
                      condition.path().text() + ": this condition has no JPQL"));
    }

    private String parameter() {
      return "?" + ++parameters;
    }

    private String order() {
      List<String> items = new ArrayList<>();
      for (Order order : name.orders()) {
        items.add(paths.value(order.path()) + (order.descending() ? " desc" : ""));
      }
      return items.isEmpty() ? "" : " order by " + String.join(", ", items);
    }
  }
}
