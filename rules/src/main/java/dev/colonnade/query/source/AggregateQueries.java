package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Aggregate;
import dev.colonnade.mapping.Aggregates;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.derived.DerivedQueries;
import dev.colonnade.query.derived.DerivedResult;
import dev.colonnade.query.derived.MethodSignature;
import dev.colonnade.query.derived.Store;
import dev.colonnade.query.jpql.JpqlTranslator;
import dev.colonnade.query.jpql.SqlNames;
import dev.colonnade.query.source.AggregateStatements.Written;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.MethodInfo;

/**
 * Turns what repositories of aggregates can be asked into SQL, or into entries that say why not.
 */
final class AggregateQueries {
  /** What is known of the service's repositories and methods, and the ids given so far. */
  record Service(SpringRepositories repositories, MethodSignatures signatures, QueryIds ids) {}

  private final Aggregates aggregates;
  private final String database;
  private final Service service;
  private final EntityQueries found;
  private final JpqlTranslator translator;
  private final List<UnanalysedQuery> unanalysed;

  /** What is found goes into the two lists. */
  AggregateQueries(
      Aggregates aggregates,
      String database,
      Service service,
      List<QueryText> queries,
      List<UnanalysedQuery> unanalysed) {
    this.aggregates = aggregates;
    this.database = database;
    this.service = service;
    this.found = new EntityQueries(aggregates.mapping(), database, queries, unanalysed);
    this.translator = new JpqlTranslator(aggregates.mapping(), database);
    this.unanalysed = unanalysed;
  }

  private Optional<Aggregate> of(ClassInfo repository) {
    return service.repositories().entityClass(repository).flatMap(aggregates::ofClass);
  }

  /** The name of the root's table as SQL writes it; empty for a repository of something else. */
  Optional<String> tableName(ClassInfo repository) {
    return of(repository).map(it -> new SqlNames(database).write(it.root().table()));
  }

  /** True for a method that the base class of a repository of aggregates answers. */
  boolean isInherited(MethodInfo method, ClassFile owner) {
    return method.isAbstract()
        && service.repositories().isConcrete(owner.info())
        && of(owner.info())
            .filter(
                it ->
                    AggregateStatements.inherited(it).containsKey(MethodSignatures.nameOf(method)))
            .isPresent();
  }

  /** What a repository inherits and does not declare itself. */
  void readRepository(ClassFile file, SourceLocation location) {
    Optional<Aggregate> aggregate = of(file.info());
    if (aggregate.isPresent()) {
      AggregateStatements.inherited(aggregate.get())
          .forEach(
              (name, statements) -> {
                if (!SpringRepositories.declares(file.info(), name)) {
                  String id = service.ids().unique(Places.idOf(file.info()) + "." + name);
                  add(id, location, QuerySource.INHERITED_METHOD, statements);
                }
              });
    }
  }

  /** A method without a text; false where its repository is not one of aggregates. */
  boolean read(String id, SourceLocation location, ClassFile owner, MethodInfo method) {
    Optional<Aggregate> aggregate = of(owner.info());
    if (aggregate.isEmpty()) {
      return false;
    }
    List<Written> inherited =
        AggregateStatements.inherited(aggregate.get()).get(MethodSignatures.nameOf(method));
    if (inherited != null) {
      add(id, location, QuerySource.METHOD_NAME, inherited);
    } else {
      named(
          id,
          MethodSignatures.countId(id, method),
          location,
          service.signatures().of(method, aggregate.get().root()),
          aggregate.get());
    }
    return true;
  }

  /** What follows from the mapping. */
  void readMapping(Places places) {
    for (Aggregate aggregate : aggregates.all()) {
      SourceLocation location = places.of(aggregate.root());
      String name = aggregate.root().className().replace('$', '.');
      AggregateStatements.unwritten(aggregate)
          .forEach(
              (suffix, statement) ->
                  add(
                      service.ids().unique(name + suffix),
                      location,
                      QuerySource.MAPPING,
                      statement));
    }
  }

  private void add(
      String id, SourceLocation location, QuerySource source, List<Written> statements) {
    for (int i = 0; i < statements.size(); i++) {
      add(i == 0 ? id : id + "#" + (i + 1), location, source, statements.get(i));
    }
  }

  private void add(String id, SourceLocation location, QuerySource source, Written statement) {
    found.unwritten(
        id,
        location,
        source,
        translator.translate(statement.text(), Optional.empty(), statement.joined()));
  }

  /**
   * The query that a method's name stands for.
   *
   * @param countId id of the query that counts the rows of which a page is given out
   */
  private void named(
      String id,
      Optional<String> countId,
      SourceLocation location,
      MethodSignature method,
      Aggregate aggregate) {
    Store store = aggregate.reactive() ? Store.R2DBC : Store.JDBC;
    DerivedResult result =
        new DerivedQueries(aggregates.mapping(), store)
            .read(withParts(method, aggregate), aggregate.root());
    if (result instanceof DerivedResult.NotUnderstood not) {
      unanalysed.add(new UnanalysedQuery(id, location, not.reason()));
      return;
    }
    DerivedResult.Understood understood = (DerivedResult.Understood) result;
    if (understood.deletes()) {
      add(
          id,
          location,
          QuerySource.METHOD_NAME,
          AggregateStatements.deletion(aggregate, understood.rows()));
      return;
    }
    add(id, location, QuerySource.METHOD_NAME, List.of(Written.of(understood.jpql())));
    countId.ifPresent(
        it -> add(it, location, QuerySource.METHOD_NAME, List.of(Written.of(understood.count()))));
  }

  /** What lies in rows of its own is read along, unless columns of the root alone are asked for. */
  private static MethodSignature withParts(MethodSignature method, Aggregate aggregate) {
    boolean columns =
        !method.projection().isEmpty()
            && method.projection().stream().allMatch(it -> isInColumns(aggregate.root(), it));
    return new MethodSignature(
        method.name(),
        method.values(),
        method.pageable(),
        false,
        columns ? method.projection() : List.of(),
        columns ? List.of() : aggregate.joined());
  }

  private static boolean isInColumns(Entity root, String attribute) {
    return root.attribute(attribute)
        .filter(it -> it instanceof Attribute.Basic || it instanceof Attribute.Embedded)
        .isPresent();
  }
}
