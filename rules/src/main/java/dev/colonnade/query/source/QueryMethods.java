package dev.colonnade.query.source;

import dev.colonnade.classfile.MethodCall.Callee;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The methods of libraries that are given the text of a query as their first argument: Jakarta
 * Persistence, Hibernate, Spring's JDBC and R2DBC, JDBI, Vert.x and JDBC itself (their Javadoc).
 */
final class QueryMethods {
  /** What a text is written in. */
  enum Language {
    JPQL,
    SQL
  }

  private static final String TEXT = "(Ljava/lang/String;";
  private static final Set<String> JPQL_METHODS =
      Set.of("createQuery", "createSelectionQuery", "createMutationQuery");
  private static final Set<String> NATIVE_METHODS =
      Set.of("createNativeQuery", "createSQLQuery", "createNativeMutationQuery");
  private static final Set<String> PERSISTENCE =
      Set.of(
          "jakarta.persistence.EntityManager",
          "javax.persistence.EntityManager",
          "org.hibernate.Session",
          "org.hibernate.SharedSessionContract",
          "org.hibernate.StatelessSession",
          "org.hibernate.query.QueryProducer",
          "org.hibernate.reactive.mutiny.Mutiny$Session",
          "org.hibernate.reactive.mutiny.Mutiny$StatelessSession");
  private static final Map<String, Set<String>> SQL_METHODS = sqlMethods();

  private QueryMethods() {}

  private static Map<String, Set<String>> sqlMethods() {
    Map<String, Set<String>> result = new LinkedHashMap<>();
    Set<String> template =
        Set.of(
            "query",
            "queryForObject",
            "queryForList",
            "queryForMap",
            "queryForRowSet",
            "queryForStream",
            "update",
            "batchUpdate",
            "execute");
    for (String owner :
        List.of(
            "JdbcTemplate",
            "JdbcOperations",
            "namedparam.NamedParameterJdbcTemplate",
            "namedparam.NamedParameterJdbcOperations")) {
      result.put("org.springframework.jdbc.core." + owner, template);
    }
    result.put("org.springframework.jdbc.core.simple.JdbcClient", Set.of("sql"));
    result.put("org.springframework.r2dbc.core.DatabaseClient", Set.of("sql"));
    result.put(
        "org.jdbi.v3.core.Handle",
        Set.of("createQuery", "createUpdate", "select", "execute", "prepareBatch"));
    result.put("java.sql.Connection", Set.of("prepareStatement"));
    result.put(
        "java.sql.Statement",
        Set.of("execute", "executeQuery", "executeUpdate", "executeLargeUpdate", "addBatch"));
    for (String owner : List.of("SqlClient", "SqlConnection", "Pool")) {
      result.put("io.vertx.sqlclient." + owner, Set.of("query", "preparedQuery"));
      result.put("io.vertx.mutiny.sqlclient." + owner, Set.of("query", "preparedQuery"));
    }
    return result;
  }

  /** The language of the first argument; empty for a method that is given no query. */
  static Optional<Language> language(Callee callee) {
    if (!callee.descriptor().startsWith(TEXT)) {
      return Optional.empty();
    }
    if (PERSISTENCE.contains(callee.owner())) {
      return JPQL_METHODS.contains(callee.name())
          ? Optional.of(Language.JPQL)
          : NATIVE_METHODS.contains(callee.name()) ? Optional.of(Language.SQL) : Optional.empty();
    }
    return SQL_METHODS.getOrDefault(callee.owner(), Set.of()).contains(callee.name())
        ? Optional.of(Language.SQL)
        : Optional.empty();
  }
}
