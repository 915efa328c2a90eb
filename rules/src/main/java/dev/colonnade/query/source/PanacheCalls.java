package dev.colonnade.query.source;

import dev.colonnade.classfile.CallArgument;
import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Entity;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.OpenTexts;
import dev.colonnade.query.source.SourceLocator.Place;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;

/**
 * The calls of Quarkus Panache's methods, of entities, of repositories and of Kotlin's companion
 * objects, and the queries they stand for (Quarkus guide "Simplified Hibernate ORM with Panache").
 */
final class PanacheCalls {
  private static final List<String> PACKAGES =
      List.of(
          "io.quarkus.hibernate.orm.panache.",
          "io.quarkus.hibernate.orm.panache.kotlin.",
          "io.quarkus.hibernate.reactive.panache.",
          "io.quarkus.hibernate.reactive.panache.kotlin.");
  private static final Predicate<String> ENTITIES = named("PanacheEntityBase", "PanacheEntity");
  private static final Predicate<String> REPOSITORIES =
      named(
          "PanacheRepositoryBase", "PanacheRepository", "PanacheCompanionBase", "PanacheCompanion");
  private static final Set<String> WITH_TEXT =
      Set.of("find", "list", "stream", "count", "delete", "update");
  private static final Set<String> OF_ALL =
      Set.of("findAll", "listAll", "streamAll", "count", "deleteAll");
  private static final Set<String> BY_ID =
      Set.of("findById", "findByIdOptional", "findByIds", "deleteById");
  private static final String TEXT = "(Ljava/lang/String;";
  private static final String SORT = "Lio/quarkus/panache/common/Sort;";
  private static final Set<String> COUNTS = Set.of("count", "pageCount", "hasNextPage");
  private static final Set<String> PAGES = Set.of("page", "range");
  private static final Set<String> ROWS =
      Set.of(
          "list",
          "stream",
          "firstResult",
          "firstResultOptional",
          "singleResult",
          "singleResultOptional");

  /** A query whose rows are counted by another select list. */
  private static final Pattern PLAIN =
      Pattern.compile("(?is)from\\b(?!.*\\b(?:fetch|order|group|union|limit)\\b).*");

  private final ClassFiles classes;
  private final Forwarders supertypes;
  private final DomainTypes domainTypes;
  private final EntityQueries entities;
  private final QueryIds ids;
  private final List<UnanalysedQuery> unanalysed;

  PanacheCalls(
      ClassFiles classes,
      Forwarders supertypes,
      EntityQueries entities,
      QueryIds ids,
      List<UnanalysedQuery> unanalysed) {
    this.classes = classes;
    this.supertypes = supertypes;
    this.domainTypes = new DomainTypes(classes, it -> REPOSITORIES.test(it.toString()));
    this.entities = entities;
    this.ids = ids;
    this.unanalysed = unanalysed;
  }

  private static Predicate<String> named(String... simpleNames) {
    Set<String> simple = Set.of(simpleNames);
    return name ->
        PACKAGES.contains(name.substring(0, name.lastIndexOf('.') + 1))
            && simple.contains(name.substring(name.lastIndexOf('.') + 1));
  }

  /** True for a method of Panache that reads or changes rows. */
  boolean isRead(Callee callee) {
    String given = callee.descriptor();
    boolean query =
        (WITH_TEXT.contains(callee.name()) && given.startsWith(TEXT))
            || (OF_ALL.contains(callee.name())
                && (given.startsWith("()") || given.startsWith("(" + SORT)))
            || BY_ID.contains(callee.name())
            || isDeletion(callee);
    return query
        && supertypes.supertypes(callee.owner()).stream()
            .anyMatch(it -> ENTITIES.test(it) || REPOSITORIES.test(it));
  }

  /** True for a method of Panache that deletes a single row. */
  boolean isRowDeleted(Callee callee) {
    return isRead(callee) && (isDeletion(callee) || callee.name().equals("deleteById"));
  }

  /** Whether a row that has been read is deleted. */
  private static boolean isDeletion(Callee callee) {
    return callee.name().equals("delete")
        && (callee.descriptor().startsWith("()")
            || callee.descriptor().startsWith("(Ljava/lang/Object;)"));
  }

  /**
   * Adds the queries of a call.
   *
   * @param name what its queries are called after
   * @param at the call as messages name it
   */
  void add(MethodCall call, String name, SourceLocation location, String at) {
    List<Entity> about = entities(call.callee());
    if (about.isEmpty()) {
      unanalysed.add(
          new UnanalysedQuery(
              ids.unique(name), location, "the class of the repository's entities is not known"));
    }
    for (Entity entity : about) {
      String id = ids.unique(name);
      if (isDeletion(call.callee())) {
        entities.deletion(id, location, QuerySource.METHOD_BODY, entity);
      } else if (BY_ID.contains(call.callee().name())) {
        addById(call.callee().name(), id, location, entity);
      } else if (call.callee().descriptor().startsWith(TEXT)) {
        addTexts(call, id, location, at, entity);
      } else {
        write(call, id, location, "", OptionalInt.empty(), entity);
      }
    }
  }

  private void addById(String method, String id, SourceLocation location, Entity entity) {
    if (method.equals("findByIds")) {
      String jpql = "from " + entity.name() + " where id(this) in ?1";
      entities.implied(id, location, QuerySource.METHOD_BODY, jpql, List.of());
      return;
    }
    entities.load(id, location, QuerySource.METHOD_BODY, entity);
    if (method.equals("deleteById")) {
      entities.deletion(id + "#delete", location, QuerySource.METHOD_BODY, entity);
    }
  }

  private void addTexts(
      MethodCall call, String id, SourceLocation location, String at, Entity entity) {
    List<String> texts =
        call.arguments().get(0).texts().stream()
            .filter(text -> OpenTexts.unknown(text).isEmpty())
            .toList();
    if (texts.isEmpty()) {
      unanalysed.add(new UnanalysedQuery(id, location, BodyScanner.AT_RUN_TIME + " in " + at));
    }
    OptionalInt values =
        call.arguments().stream()
            .map(CallArgument::elements)
            .filter(OptionalInt::isPresent)
            .findFirst()
            .orElse(OptionalInt.empty());
    for (String text : texts) {
      write(call, id, location, text, values, entity);
    }
  }

  private void write(
      MethodCall call,
      String id,
      SourceLocation location,
      String text,
      OptionalInt values,
      Entity entity) {
    String method = call.callee().name();
    Optional<String> whole = PanacheQueries.whole(method, text, values, entity.name());
    if (whole.isEmpty()) {
      return;
    }
    String query = OpenTexts.withParameters(whole.get(), ":text");
    Set<String> then = call.followedBy();
    if (method.equals("count")) {
      count(id, location, query);
      return;
    }
    boolean counted = then.stream().anyMatch(COUNTS::contains);
    if (!counted || then.stream().anyMatch(ROWS::contains)) {
      for (String order : orders(call)) {
        entities.written(
            id,
            new Place(location, OptionalInt.empty()),
            QuerySource.METHOD_BODY,
            query + (order.isEmpty() ? "" : " order by " + order) + limit(then),
            Optional.empty(),
            then.stream().anyMatch(PAGES::contains));
      }
      if (counted) {
        count(id + "#count", location, query);
      }
    } else {
      count(id, location, query);
    }
  }

  /** The count of the rows of a query, written out where that is as easily said. */
  private void count(String id, SourceLocation location, String query) {
    Place place = new Place(location, OptionalInt.empty());
    if (PLAIN.matcher(query).matches()) {
      String counting = "select count(*) " + query;
      entities.written(
          id, place, QuerySource.METHOD_BODY, counting, Optional.empty(), /* paged= */ false);
    } else {
      entities.counted(id, place, QuerySource.METHOD_BODY, query, Optional.empty());
    }
  }

  /** The orders that the call is given: none where it is given none, or one that is not known. */
  private static List<String> orders(MethodCall call) {
    String types = call.callee().descriptor();
    int place = types.startsWith("(" + SORT) ? 0 : types.startsWith(TEXT + SORT) ? 1 : -1;
    List<String> known = place < 0 ? List.of() : call.arguments().get(place).texts();
    return known.isEmpty() ? List.of("") : known;
  }

  /** How many rows are asked for by what is called on the query. */
  private static String limit(Set<String> then) {
    if (then.stream().anyMatch(it -> it.startsWith("firstResult"))) {
      return " limit 1";
    }
    return then.stream().anyMatch(it -> it.startsWith("singleResult")) ? " limit 2" : "";
  }

  /** The entities that a call can be about: several for a base class of repositories. */
  List<Entity> entities(Callee callee) {
    List<String> names = new ArrayList<>();
    if (supertypes.supertypes(callee.owner()).stream().anyMatch(ENTITIES)) {
      names.add(callee.owner());
    } else {
      argument(callee.owner()).ifPresent(names::add);
    }
    if (names.isEmpty()) {
      for (ClassFile file : classes.all()) {
        String type = file.info().name().toString();
        if (supertypes.supertypes(type).contains(callee.owner())) {
          argument(type).ifPresent(names::add);
        }
      }
    }
    return names.stream().distinct().sorted().flatMap(it -> entities.entity(it).stream()).toList();
  }

  private Optional<String> argument(String type) {
    return classes
        .find(DotName.createSimple(type))
        .flatMap(domainTypes::of)
        .filter(it -> it.kind() == Type.Kind.CLASS)
        .map(it -> it.name().toString());
  }
}
