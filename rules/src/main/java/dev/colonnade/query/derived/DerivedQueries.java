package dev.colonnade.query.derived;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.derived.MethodName.Case;
import dev.colonnade.query.derived.MethodName.Condition;
import dev.colonnade.query.derived.MethodName.Order;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

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
  private final Store store;

  /**
   * Names are looked up among the attributes of these entities, which Jakarta Persistence keeps.
   */
  public DerivedQueries(Mapping mapping) {
    this(mapping, Store.JPA);
  }

  /** Names are looked up among the attributes of these entities. */
  public DerivedQueries(Mapping mapping, Store store) {
    this.mapping = mapping;
    this.store = store;
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

  /** One item of an order, with the name of the parameter that a row's value goes into. */
  private record Sorted(String value, String key, boolean descending) {}

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
      name.alternatives().forEach(it -> it.forEach(condition -> requireReach(condition.path())));
      String where = where();
      String joins = paths.joins();
      String select = select();
      List<Sorted> orders = orders();
      String orderBy = orderBy(orders);
      if (parameters > method.values()) {
        throw new UnknownNameException(
            "the name needs " + parameters + " values, the method has " + method.values());
      }
      String from = " from " + entity.name() + " e";
      String rows = from + joins + where;
      String counted = "select count(" + counted() + ")" + rows;
      String source = select + from + paths.joins() + paths.fetches(method.fetched(), entity);
      String most = name.limit().isPresent() ? " limit " + name.limit().getAsInt() : "";
      return new DerivedResult.Understood(
          switch (name.verb()) {
            case COUNT -> counted;
            case EXISTS -> "select id(e)" + rows + " limit 1";
            case FIND -> source + where + orderBy + limit();
            case DELETE -> "select e" + rows;
          },
          counted + most,
          method.scrolled()
              ? Optional.of(source + behind(where, orders) + orderBy + limit())
              : Optional.empty(),
          name.verb() == MethodName.Verb.DELETE,
          rows);
    }

    private String counted() {
      return switch (store) {
        case JPA -> name.distinct() ? "distinct e" : "e";
        case JDBC -> "*";
        case R2DBC -> "e";
      };
    }

    /** Fails where the store cannot compare what lies in rows of its own. */
    private void requireReach(AttributePath path) {
      boolean own =
          path.attributes().stream()
              .noneMatch(it -> it instanceof Attribute.ToOne || it instanceof Attribute.ToMany);
      if (store != Store.JPA && !own) {
        throw new UnknownNameException(
            path.text() + " lies in another table, which conditions of a name do not reach");
      }
    }

    /**
     * The condition for the rows behind one whose keys are given: the first differs, or it is equal
     * and the next differs (Spring Data's {@code KeysetScrollDelegate}).
     */
    private static String behind(String where, List<Sorted> orders) {
      List<String> alternatives = new ArrayList<>();
      for (int i = 0; i < orders.size(); i++) {
        StringBuilder together = new StringBuilder();
        for (Sorted equal : orders.subList(0, i)) {
          together.append(equal.value()).append(" = :").append(equal.key()).append(" and ");
        }
        Sorted last = orders.get(i);
        together.append(last.value()).append(last.descending() ? " < :" : " > :");
        alternatives.add("(" + together.append(last.key()) + ")");
      }
      String keys = "(" + String.join(" or ", alternatives) + ")";
      return where.isEmpty()
          ? " where " + keys
          : " where (" + where.substring(" where ".length()) + ") and " + keys;
    }

    private String select() {
      boolean distinct = name.distinct() && store != Store.JDBC;
      return "select " + (distinct ? "distinct " : "") + items().orElse("e");
    }

    /** What a projection reads; empty where a word of it is no attribute: then all is read. */
    private Optional<String> items() {
      List<AttributePath> items = new ArrayList<>();
      for (String word : method.projection()) {
        Optional<AttributePath> path = AttributePath.find(word, entity, mapping);
        if (path.isEmpty()) {
          return Optional.empty();
        }
        items.add(path.get());
      }
      return items.isEmpty()
          ? Optional.empty()
          : Optional.of(String.join(", ", items.stream().map(paths::selected).toList()));
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
      return Conditions.write(
              condition.operator(),
              paths,
              condition.path(),
              fold,
              this::parameter,
              it -> store == Store.JPA ? String.valueOf(it) : it ? ":isTrue" : ":isFalse")
          .orElseThrow(
              () ->
                  new UnknownNameException(
                      condition.path().text() + ": this condition has no JPQL"));
    }

    private String parameter() {
      return "?" + ++parameters;
    }

    /** The order of the name; where keys are gone on from, the identifier ends it. */
    private List<Sorted> orders() {
      List<Sorted> items = new ArrayList<>();
      for (Order order : name.orders()) {
        items.add(
            new Sorted(paths.value(order.path()), "key" + (items.size() + 1), order.descending()));
      }
      if (method.scrolled()) {
        for (Attribute id : entity.id()) {
          String value = "e." + id.name();
          if (items.stream().noneMatch(it -> it.value().equals(value))) {
            items.add(new Sorted(value, "key" + (items.size() + 1), false));
          }
        }
      }
      return items;
    }

    private static String orderBy(List<Sorted> orders) {
      return orders.isEmpty()
          ? ""
          : " order by "
              + String.join(
                  ", ",
                  orders.stream()
                      .map(it -> it.value() + (it.descending() ? " desc" : ""))
                      .toList());
    }
  }
}
