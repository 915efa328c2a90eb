package dev.colonnade.query.source;

import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The methods of libraries that are given the text of a query, as their first argument or behind a
 * connection: Jakarta Persistence, Hibernate, Spring's JDBC, R2DBC and batch readers, JDBI, jOOQ,
 * Sql2o, DbUtils, Groovy, Vert.x, R2DBC and JDBC itself (their Javadoc).
 */
final class QueryMethods {
  /** What a text is written in. */
  enum Language {
    JPQL,
    SQL
  }

  private static final String TEXT = "(Ljava/lang/String;";
  private static final String CONNECTED_TEXT = "(Ljava/sql/Connection;Ljava/lang/String;";
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
          "org.hibernate.reactive.mutiny.Mutiny$StatelessSession",
          "org.hibernate.reactive.stage.Stage$Session",
          "org.hibernate.reactive.stage.Stage$StatelessSession");
  private static final Set<String> HQL_TEMPLATES =
      Set.of(
          "org.springframework.orm.hibernate5.HibernateTemplate",
          "org.springframework.orm.hibernate5.HibernateOperations",
          "org.springframework.orm.hibernate4.HibernateTemplate",
          "org.springframework.orm.hibernate3.HibernateTemplate",
          "org.springframework.orm.hibernate3.HibernateOperations");
  private static final Set<String> HQL_METHODS =
      Set.of("find", "findByNamedParam", "findByValueBean", "iterate", "bulkUpdate");
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
    result.put("java.sql.Connection", Set.of("prepareStatement"));
    result.put(
        "java.sql.Statement",
        Set.of("execute", "executeQuery", "executeUpdate", "executeLargeUpdate", "addBatch"));
    result.put(
        "org.jdbi.v3.core.Handle",
        Set.of("createQuery", "createUpdate", "select", "execute", "prepareBatch", "createScript"));
    result.put("org.jdbi.v3.core.statement.Batch", Set.of("add"));
    result.put(
        "org.skife.jdbi.v2.Handle",
        Set.of(
            "createQuery",
            "createStatement",
            "select",
            "execute",
            "insert",
            "update",
            "prepareBatch",
            "createScript"));
    result.put("org.skife.jdbi.v2.Batch", Set.of("add"));
    result.put("io.r2dbc.spi.Connection", Set.of("createStatement"));
    result.put(
        "org.jooq.DSLContext",
        Set.of(
            "query",
            "resultQuery",
            "execute",
            "fetch",
            "fetchAny",
            "fetchLazy",
            "fetchMany",
            "fetchOne",
            "fetchOptional",
            "fetchOptionalValue",
            "fetchSingle",
            "fetchStream",
            "fetchValue",
            "fetchValues"));
    result.put("org.sql2o.Connection", Set.of("createQuery", "createQueryWithParams"));
    result.put(
        "groovy.sql.Sql",
        Set.of(
            "rows", "firstRow", "eachRow", "query", "execute", "executeUpdate", "executeInsert"));
    Set<String> runner = Set.of("query", "update", "insert", "batch", "execute", "insertBatch");
    result.put("org.apache.commons.dbutils.QueryRunner", runner);
    result.put("org.apache.commons.dbutils.AsyncQueryRunner", runner);
    for (String reader :
        List.of(
            "JdbcCursorItemReader",
            "builder.JdbcCursorItemReaderBuilder",
            "JdbcBatchItemWriter",
            "builder.JdbcBatchItemWriterBuilder")) {
      result.put("org.springframework.batch.item.database." + reader, Set.of("setSql", "sql"));
    }
    for (String owner : List.of("SqlClient", "SqlConnection", "Pool")) {
      result.put("io.vertx.sqlclient." + owner, Set.of("query", "preparedQuery"));
      result.put("io.vertx.mutiny.sqlclient." + owner, Set.of("query", "preparedQuery"));
    }
    return result;
  }

  /** True for an entity manager or a session. */
  static boolean isSession(String owner) {
    return PERSISTENCE.contains(owner);
  }

  /** Whether a call gives Jdbi a text, in which attributes stand in angle brackets. */
  static boolean isJdbi(MethodCall call) {
    String owner = call.callee().owner();
    return owner.startsWith("org.jdbi.v3.") || owner.startsWith("org.skife.jdbi.v2.");
  }

  /** Where a query's text stands among the arguments, the first or behind a connection. */
  static int place(Callee callee) {
    return callee.descriptor().startsWith(CONNECTED_TEXT) ? 1 : 0;
  }

  /** The language of the text; empty for a method that is given no query. */
  static Optional<Language> language(Callee callee) {
    if (!callee.descriptor().startsWith(TEXT)) {
      boolean connected =
          callee.descriptor().startsWith(CONNECTED_TEXT)
              && SQL_METHODS.getOrDefault(callee.owner(), Set.of()).contains(callee.name());
      return connected ? Optional.of(Language.SQL) : Optional.empty();
    }
    if (HQL_TEMPLATES.contains(callee.owner())) {
      return HQL_METHODS.contains(callee.name()) ? Optional.of(Language.JPQL) : Optional.empty();
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
