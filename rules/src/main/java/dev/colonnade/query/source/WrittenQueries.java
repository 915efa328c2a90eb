package dev.colonnade.query.source;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.SourceLocator.Place;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.jboss.jandex.ClassInfo;

/** Texts of annotations as queries: JPQL is translated, what stands for names in SQL filled in. */
final class WrittenQueries {
  private final Optional<EntityQueries> entities;
  private final AggregateQueries aggregates;
  private final SpringRepositories repositories;
  private final List<QueryText> queries;
  private final List<UnanalysedQuery> unanalysed;

  /**
   * What adds to the two lists.
   *
   * @param entities empty where the mapping is not read, so that JPQL is not analysed
   */
  WrittenQueries(
      Optional<EntityQueries> entities,
      AggregateQueries aggregates,
      SpringRepositories repositories,
      List<QueryText> queries,
      List<UnanalysedQuery> unanalysed) {
    this.entities = entities;
    this.aggregates = aggregates;
    this.repositories = repositories;
    this.queries = queries;
    this.unanalysed = unanalysed;
  }

  /** A text whose rows are all read, and nothing along with them. */
  void add(String id, Place place, AnnotatedText text, ClassInfo type) {
    add(id, place, text, type, false, List.of());
  }

  /**
   * A text.
   *
   * @param type the class it stands at, or the repository that has its method
   * @param paged true where a page of its rows is read
   * @param fetched paths to what is read along
   */
  void add(
      String id,
      Place place,
      AnnotatedText text,
      ClassInfo type,
      boolean paged,
      List<String> fetched) {
    SourceLocation location = place.location();
    if (text.jpql() && entities.isPresent()) {
      entities.get().written(id, place, text.text(), repositories.entityName(type), paged, fetched);
      return;
    }
    if (text.problem().isPresent()) {
      unanalysed.add(new UnanalysedQuery(id, location, text.problem().get()));
      return;
    }
    String sql = text.text();
    if (text.template()) {
      sql = NameTemplates.filled(sql, repositories.entityName(type), aggregates.tableName(type));
      sql = Patterns.written(sql);
      if (paged && entities.isPresent()) {
        sql = entities.get().paged(sql);
      }
      Optional<String> rest = NameTemplates.first(sql);
      if (rest.isPresent()) {
        unanalysed.add(
            new UnanalysedQuery(
                id, location, "what stands for " + rest.get() + " in the SQL is not known"));
        return;
      }
    }
    queries.add(
        new QueryText(id, location, QuerySource.ANNOTATION, text.text(), sql, place.textLine()));
  }

  /** The count of all rows of which pages are given out, where nobody wrote one. */
  void count(String id, Place place, AnnotatedText text, ClassInfo owner) {
    if (text.jpql()) {
      entities
          .get()
          .counted(id, place, QuerySource.ANNOTATION, text.text(), repositories.entityName(owner));
    } else {
      String counted = CountedSql.of(text.text());
      add(
          id,
          new Place(place.location(), OptionalInt.empty()),
          AnnotatedText.sql(text.name(), text.attribute(), counted, text.template()),
          owner);
    }
  }

  /** A query that was written when the service was compiled. */
  void generated(
      String id,
      SourceLocation location,
      QuerySource source,
      String text,
      boolean sql,
      boolean paged) {
    if (entities.isEmpty() || sql) {
      String whole = paged && entities.isPresent() ? entities.get().paged(text) : text;
      queries.add(new QueryText(id, location, source, text, whole, OptionalInt.empty()));
    } else {
      entities
          .get()
          .written(
              id, new Place(location, OptionalInt.empty()), source, text, Optional.empty(), paged);
    }
  }
}
