package dev.colonnade.query.source;

import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.xml.XmlQuery;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.SourceLocator.Place;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/**
 * The named queries of mapping files. A query's id is {@code FILE#NAME}, the file as it lies among
 * the classes.
 */
public final class MappingFileQueries {
  /** Hibernate's places for columns and aliases in SQL: {@code {b.*}}. */
  private static final Pattern BRACES =
      Pattern.compile("(?<![$#:])\\{([A-Za-z_]\\w*(?:\\.(?:\\w+|\\*))?)}");

  private MappingFileQueries() {}

  static String withoutBraces(String sql) {
    return BRACES.matcher(sql).replaceAll("$1");
  }

  /**
   * The queries in SQL, and those that cannot be put into SQL.
   *
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public static FoundQueries read(List<XmlQuery> written, Mapping mapping, String database) {
    QueryIds ids = new QueryIds();
    List<QueryText> queries = new ArrayList<>();
    List<UnanalysedQuery> unanalysed = new ArrayList<>();
    EntityQueries entities = new EntityQueries(mapping, database, queries, unanalysed);
    for (XmlQuery query : written) {
      String id = ids.unique(query.file() + "#" + query.name());
      OptionalInt textLine = OptionalInt.of(query.textLine());
      if (query.text().isBlank()) {
        unanalysed.add(new UnanalysedQuery(id, query.location(), "the element holds no text"));
      } else if (query.isNative()) {
        queries.add(
            new QueryText(
                id,
                query.location(),
                QuerySource.MAPPER,
                query.text(),
                withoutBraces(query.text()),
                textLine));
      } else {
        entities.written(
            id,
            new Place(query.location(), textLine),
            QuerySource.MAPPER,
            query.text(),
            Optional.empty(),
            false);
      }
    }
    return new FoundQueries(queries, unanalysed, List.of());
  }
}
