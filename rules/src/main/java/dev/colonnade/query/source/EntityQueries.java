package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.derived.DerivedQueries;
import dev.colonnade.query.derived.DerivedResult;
import dev.colonnade.query.derived.MethodSignature;
import dev.colonnade.query.jpql.JpqlResult;
import dev.colonnade.query.jpql.JpqlTranslator;
import dev.colonnade.query.jpql.MappingStatements;
import dev.colonnade.query.source.SourceLocator.Place;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import org.jboss.jandex.MethodInfo;

/** Turns queries over entities into SQL, or into entries that say why not. */
final class EntityQueries {
  private static final Pattern LIMITED =
      Pattern.compile("(?s).*\\b(limit|offset|fetch\\s+(first|next))\\s+[:?\\w]+.*");

  private final Mapping mapping;
  private final JpqlTranslator translator;
  private final DerivedQueries derived;
  private final MappingStatements statements;
  private final Set<Entity> deleted = new LinkedHashSet<>();
  private final List<QueryText> queries;
  private final List<UnanalysedQuery> unanalysed;

  /** What is found goes into the two lists. */
  EntityQueries(
      Mapping mapping, String database, List<QueryText> queries, List<UnanalysedQuery> unanalysed) {
    this.mapping = mapping;
    this.translator = new JpqlTranslator(mapping, database);
    this.derived = new DerivedQueries(mapping);
    this.statements = new MappingStatements(mapping, database);
    this.queries = queries;
    this.unanalysed = unanalysed;
  }

  Optional<Entity> entity(String className) {
    return mapping.ofClass(className);
  }

  /**
   * A text in JPQL.
   *
   * @param paged true where a page of the result is asked for
   * @param fetched paths to what is read along
   */
  void written(
      String id,
      Place place,
      String text,
      Optional<String> entityName,
      boolean paged,
      List<String> fetched) {
    written(id, place, QuerySource.ANNOTATION, text, entityName, paged, fetched);
  }

  /** A text in JPQL that was found in another place than an annotation. */
  void written(
      String id,
      Place place,
      QuerySource source,
      String text,
      Optional<String> entityName,
      boolean paged) {
    written(id, place, source, text, entityName, paged, List.of());
  }

  private void written(
      String id,
      Place place,
      QuerySource source,
      String text,
      Optional<String> entityName,
      boolean paged,
      List<String> fetched) {
    boolean limited = LIMITED.matcher(text.toLowerCase(Locale.ROOT)).matches();
    boolean changes =
        text.strip().toLowerCase(Locale.ROOT).matches("(?s)(update|delete|insert)\\b.*");
    String plain = Patterns.written(text);
    String whole =
        paged && !limited && !changes ? plain + " limit :pageSize offset :pageOffset" : plain;
    add(
        id,
        place,
        source,
        text,
        translator.translate(whole, entityName, fetched),
        result -> at(place, result));
  }

  /** The count of all rows of which a query's pages are parts, where no text of its own counts. */
  void counted(
      String id, Place place, QuerySource source, String text, Optional<String> entityName) {
    add(
        id,
        new Place(place.location(), OptionalInt.empty()),
        source,
        text,
        translator.translateCount(Patterns.written(text), entityName),
        result -> at(place, result));
  }

  /** Native SQL of which a page is asked for; one that is limited already stays as it is. */
  String paged(String sql) {
    String lower = sql.strip().toLowerCase(Locale.ROOT);
    boolean selects = lower.startsWith("select") || lower.startsWith("with");
    return selects && !LIMITED.matcher(lower).matches() ? translator.paged(sql) : sql;
  }

  private static String at(Place place, JpqlResult.NotTranslated result) {
    return place.textLine().isPresent()
        ? result.reason()
            + " at "
            + (place.textLine().getAsInt() + result.line() - 1)
            + ":"
            + result.column()
        : result.reason() + " at " + result.line() + ":" + result.column() + " of the text";
  }

  /**
   * The query that a method's name stands for.
   *
   * @param countId id of the query that counts the rows of which a page is given out
   */
  void named(
      String id,
      Optional<String> countId,
      SourceLocation location,
      MethodSignature method,
      Entity entity) {
    DerivedResult result = derived.read(method, entity);
    if (result instanceof DerivedResult.NotUnderstood not) {
      unanalysed.add(new UnanalysedQuery(id, location, not.reason()));
      return;
    }
    DerivedResult.Understood understood = (DerivedResult.Understood) result;
    implied(id, location, understood.jpql());
    countId.ifPresent(it -> implied(it, location, understood.count()));
    understood.further().ifPresent(it -> implied(id + "#next", location, it));
    if (understood.deletes()) {
      deletion(id + "#delete", location, QuerySource.METHOD_NAME, entity);
    }
  }

  /**
   * A method that a repository inherits and declares again, with a graph or without; false where it
   * inherits none of that name.
   */
  boolean redeclared(
      String id,
      SourceLocation location,
      MethodInfo method,
      MethodSignatures signatures,
      Entity entity) {
    boolean byId = method.name().equals("findById") || method.name().equals("deleteById");
    String jpql = inherited(entity).get(method.name());
    if (!byId && jpql == null) {
      return false;
    }
    List<String> fetched = signatures.of(method, entity).fetched();
    if (byId && (fetched.isEmpty() || entity.id().isEmpty())) {
      load(id, location, QuerySource.METHOD_NAME, entity);
      return true;
    }
    String whole = byId ? "select e from " + entity.name() + " e where id(e) = ?1" : jpql;
    String page = MethodSignatures.isPaged(method) ? " limit :pageSize offset :pageOffset" : "";
    implied(id, location, QuerySource.METHOD_NAME, whole + page, fetched);
    if (MethodSignatures.isCounted(method)) {
      String count = "select count(e) from " + entity.name() + " e";
      implied(id + "#count", location, QuerySource.METHOD_NAME, count, List.of());
    }
    return true;
  }

  /**
   * A method of Jakarta Data that has its meaning from an annotation without a text.
   *
   * @param id gives the id of the query, where the method stands for one
   * @param repositoryEntity the class of the repository's entities
   */
  void automatic(
      Supplier<String> id,
      SourceLocation location,
      MethodInfo method,
      ClassFiles classes,
      Optional<String> repositoryEntity) {
    JakartaData data = new JakartaData(classes);
    Optional<Entity> given = data.deleted(method).flatMap(this::entity);
    if (given.isPresent()) {
      deletion(id.get(), location, QuerySource.METHOD_NAME, given.get());
      return;
    }
    if (!JakartaData.asks(method)) {
      return;
    }
    String own = id.get();
    Optional<JakartaData.Automatic> asked =
        data.entityOf(method)
            .or(() -> repositoryEntity)
            .flatMap(this::entity)
            .flatMap(entity -> JakartaData.automatic(method, entity));
    if (asked.isEmpty()) {
      unanalysed.add(
          new UnanalysedQuery(
              own, location, "its entity or the names of its parameters are not known"));
      return;
    }
    implied(own, location, asked.get().jpql());
    asked.get().count().ifPresent(count -> implied(own + "#count", location, count));
  }

  /** The entities of which rows are deleted by what was found so far. */
  Set<Entity> deleted() {
    return Set.copyOf(deleted);
  }

  /** Notes that rows of an entity are deleted one by one. */
  void deletes(Entity entity) {
    deleted.add(entity);
  }

  /**
   * How a row is read by its identifier.
   *
   * @param source whether the method that does it was declared or inherited
   */
  void load(String id, SourceLocation location, QuerySource source, Entity entity) {
    implied(id, location, source, "the row of " + entity.name(), statements.load(entity));
  }

  /** How a row that has been read is deleted. */
  void deletion(String id, SourceLocation location, QuerySource source, Entity entity) {
    deletes(entity);
    JpqlResult deleted = statements.delete(entity);
    if (!(deleted instanceof JpqlResult.Translated sent) || !sent.sql().isEmpty()) {
      implied(id, location, source, "delete a row of " + entity.name(), deleted);
    }
  }

  /** A query that a declared method stands for. */
  private void implied(String id, SourceLocation location, String jpql) {
    implied(id, location, QuerySource.METHOD_NAME, jpql, List.of());
  }

  /**
   * A query that a method stands for.
   *
   * @param source whether the method was declared or inherited
   * @param fetched paths to what is read along
   */
  void implied(
      String id, SourceLocation location, QuerySource source, String jpql, List<String> fetched) {
    add(
        id,
        new Place(location, OptionalInt.empty()),
        source,
        jpql,
        translator.translate(jpql, Optional.empty(), fetched),
        not -> not.reason() + " in " + jpql);
  }

  private void implied(
      String id, SourceLocation location, QuerySource source, String text, JpqlResult result) {
    add(
        id,
        new Place(location, OptionalInt.empty()),
        source,
        text,
        result,
        JpqlResult.NotTranslated::reason);
  }

  /** A statement that follows from the mapping. */
  void unwritten(String id, SourceLocation location, JpqlResult statement) {
    unwritten(id, location, QuerySource.MAPPING, statement);
  }

  /** A statement that nobody wrote in any language. */
  void unwritten(String id, SourceLocation location, QuerySource source, JpqlResult statement) {
    add(
        id,
        new Place(location, OptionalInt.empty()),
        source,
        "",
        statement,
        JpqlResult.NotTranslated::reason);
  }

  /**
   * The methods inherited from Spring Data that read single rows by their identifier. Those of an
   * id class are looked for one by one, and counted only where it holds no identifier of another
   * entity (Spring Data JPA's {@code SimpleJpaRepository}).
   */
  static List<String> inheritedLoads(Entity entity) {
    List<String> result = new ArrayList<>(List.of("deleteById", "findById"));
    if (entity.id().size() > 1) {
      result.add("findAllById");
    }
    if (refersInId(entity)) {
      result.add("existsById");
    }
    return result;
  }

  private static boolean refersInId(Entity entity) {
    return entity.id().stream().anyMatch(Attribute.ToOne.class::isInstance);
  }

  /**
   * The queries of the methods that a repository inherits from Spring Data (Spring Data JPA's
   * {@code SimpleJpaRepository}), by the method's name.
   */
  static Map<String, String> inherited(Entity entity) {
    String name = entity.name();
    Map<String, String> result = new LinkedHashMap<>();
    if (!entity.id().isEmpty() && !refersInId(entity)) {
      result.put("existsById", "select count(*) from " + name + " e where id(e) = ?1");
    }
    if (entity.id().size() == 1) {
      result.put("findAllById", "select e from " + name + " e where id(e) in ?1");
    }
    result.put("count", "select count(*) from " + name + " e");
    result.put("findAll", "select e from " + name + " e");
    return result;
  }

  private void add(
      String id,
      Place place,
      QuerySource source,
      String text,
      JpqlResult result,
      Function<JpqlResult.NotTranslated, String> reason) {
    if (result instanceof JpqlResult.Translated translated) {
      statements(id, place, source, text, translated);
      translated.filtered().forEach(it -> statements(id, place, source, text, it));
    } else if (result instanceof JpqlResult.NotTranslated not) {
      unanalysed.add(
          new UnanalysedQuery(id, place.location(), reason.apply(not), source.isWritten()));
    }
  }

  /** A query that filters change has several texts under one id. */
  private void statements(
      String id, Place place, QuerySource source, String text, JpqlResult.Translated translated) {
    List<String> all = new ArrayList<>();
    if (!translated.sql().isEmpty()) {
      all.add(translated.sql());
      all.addAll(translated.further());
    }
    for (int i = 0; i < all.size(); i++) {
      String ownId = i == 0 ? id : id + "#" + (i + 1);
      String sql = all.get(i);
      String shown = text.isEmpty() ? sql : text;
      queries.add(new QueryText(ownId, place.location(), source, shown, sql, OptionalInt.empty()));
    }
  }
}
