package dev.colonnade.query.source;

import dev.colonnade.mapping.Aggregate;
import dev.colonnade.mapping.Aggregate.Part;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The statements by which Spring Data JDBC and R2DBC read, write and delete aggregates, as texts
 * over their entities ({@code SqlGenerator} of Spring Data JDBC 4.1, {@code SimpleR2dbcRepository}
 * and {@code R2dbcEntityTemplate} of Spring Data R2DBC 4.1).
 */
final class AggregateStatements {
  /**
   * A text in JPQL.
   *
   * @param joined paths to what is read along
   */
  record Written(String text, List<String> joined) {
    Written {
      joined = List.copyOf(joined);
    }

    static Written of(String text) {
      return new Written(text, List.of());
    }
  }

  private final Aggregate aggregate;
  private final Entity root;
  private final String from;

  private AggregateStatements(Aggregate aggregate) {
    this.aggregate = aggregate;
    this.root = aggregate.root();
    this.from = " from " + root.name() + " e";
  }

  /** By the name of the method; the statement on the root comes first. */
  static Map<String, List<Written>> inherited(Aggregate aggregate) {
    return new AggregateStatements(aggregate).methods();
  }

  private Map<String, List<Written>> methods() {
    Map<String, List<Written>> result = new LinkedHashMap<>();
    result.put("findAll", List.of(select("")));
    result.put("count", List.of(Written.of("select count(*)" + from)));
    result.put("deleteAll", deleteAll());
    if (root.id().isEmpty()) {
      return result;
    }
    String byId = " where " + id() + " = ?1";
    result.put("findById", List.of(select(byId + (aggregate.reactive() ? " limit 2" : ""))));
    result.put("findAllById", List.of(select(" where " + id() + " in ?1")));
    result.put(
        "existsById",
        List.of(
            Written.of(
                aggregate.reactive()
                    ? "select " + id() + from + byId + " limit 1"
                    : "select count(" + id() + ")" + from + byId)));
    result.put("deleteById", List.of(Written.of("delete" + from + byId)));
    result.put("delete", List.of(Written.of("delete" + from + byId + version(2))));
    List<Written> several = new ArrayList<>();
    several.add(Written.of("delete" + from + " where " + id() + " in ?1"));
    written().forEach(part -> several.add(Written.of(deletionOf(part, " in ?1"))));
    result.put("deleteAllById", several);
    return result;
  }

  private List<Written> deleteAll() {
    List<Written> result = new ArrayList<>();
    result.add(Written.of("delete" + from));
    written().forEach(part -> result.add(Written.of(deletionOf(part, " is not null"))));
    return result;
  }

  private List<Part> written() {
    return aggregate.parts().stream().filter(Part::written).toList();
  }

  private String id() {
    return "e." + root.id().get(0).name();
  }

  /** R2DBC compares the version only when it updates. */
  private String version(int parameter) {
    return aggregate.reactive()
        ? ""
        : root.version().map(it -> " and e." + it + " = ?" + parameter).orElse("");
  }

  private Written select(String where) {
    return new Written("select e" + from + where, aggregate.joined());
  }

  /** The statements that delete the rows meant, and their parts with them. */
  static List<Written> deletion(Aggregate aggregate, String rows) {
    AggregateStatements statements = new AggregateStatements(aggregate);
    List<Written> result = new ArrayList<>();
    result.add(Written.of("delete" + rows));
    if (!aggregate.root().id().isEmpty()) {
      String selected = " in (select " + statements.id() + rows + ")";
      aggregate
          .parts()
          .forEach(part -> result.add(Written.of(statements.deletionOf(part, selected))));
    }
    return result;
  }

  /**
   * The statement that deletes a part's rows.
   *
   * @param condition what the identifier of the root fulfils
   */
  private String deletionOf(Part part, String condition) {
    return "delete from " + part.entity().name() + " p where " + belongs(part, "p", condition);
  }

  private String belongs(Part part, String alias, String condition) {
    Optional<Part> owner = aggregate.ownerOf(part);
    String inner =
        owner
            .map(
                it ->
                    " in (select "
                        + alias
                        + "o."
                        + it.entity().id().get(0).name()
                        + " from "
                        + it.entity().name()
                        + " "
                        + alias
                        + "o where "
                        + belongs(it, alias + "o", condition)
                        + ")")
            .orElse(condition);
    return String.join(" and ", part.back().stream().map(it -> alias + "." + it + inner).toList());
  }

  /** By what follows the root's class in their ids. */
  static Map<String, Written> unwritten(Aggregate aggregate) {
    AggregateStatements statements = new AggregateStatements(aggregate);
    Map<String, Written> result = new LinkedHashMap<>();
    statements.update().ifPresent(it -> result.put("#update", it));
    for (Part part : aggregate.parts()) {
      if (part.many()) {
        result.put("." + part.path(), load(part));
      }
      if (part.written()) {
        result.put("." + part.path() + "#delete", Written.of(statements.deletionOf(part, " = ?1")));
      }
    }
    return result;
  }

  /** How a collection is read, whose owner has been read. */
  private static Written load(Part part) {
    List<String> conditions = new ArrayList<>();
    part.readBy().forEach(it -> conditions.add("p." + it + " = ?" + (conditions.size() + 1)));
    String order = part.ordered() ? part.key().map(it -> " order by p." + it).orElse("") : "";
    return new Written(
        "select p from "
            + part.entity().name()
            + " p where "
            + String.join(" and ", conditions)
            + order,
        part.joined());
  }

  private Optional<Written> update() {
    List<String> set = new ArrayList<>();
    addColumns(root.attributes(), "", set);
    if (set.isEmpty() || root.id().isEmpty()) {
      return Optional.empty();
    }
    List<String> assignments = new ArrayList<>();
    set.forEach(it -> assignments.add("e." + it + " = ?" + (assignments.size() + 1)));
    int next = assignments.size() + 1;
    String version = root.version().map(it -> " and e." + it + " = ?" + (next + 1)).orElse("");
    return Optional.of(
        Written.of(
            "update "
                + root.name()
                + " e set "
                + String.join(", ", assignments)
                + " where "
                + id()
                + " = ?"
                + next
                + version));
  }

  private void addColumns(List<Attribute> attributes, String prefix, List<String> paths) {
    for (Attribute attribute : attributes) {
      String path = prefix + attribute.name();
      if (aggregate.unchanged().contains(path)) {
        continue;
      }
      if (attribute instanceof Attribute.Basic) {
        paths.add(path);
      } else if (attribute instanceof Attribute.Embedded embedded) {
        addColumns(embedded.attributes(), path + ".", paths);
      }
    }
  }
}
