package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Annotations of a service that Jdbi runs as its own. The annotation of Jdbi is a stand-in under
 * the real name with the attribute that matters (jdbi3-sqlobject 3.49).
 */
final class SqlOperationsTest {
  private static final String[] SERVICE = {
    """
    package org.jdbi.v3.sqlobject; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME) public @interface SqlOperation { Class<?> value(); }
    """,
    """
    package port;
    public enum Store { POSTGRES, MYSQL }
    """,
    """
    package port; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME) @Repeatable(StoreQueries.class)
    public @interface StoreQuery { String value(); Store store(); }
    """,
    """
    package port; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME) @org.jdbi.v3.sqlobject.SqlOperation(Object.class)
    public @interface StoreQueries { StoreQuery[] value(); }
    """,
    """
    package org.jdbi.v3.core.extension.annotation; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME)
    public @interface UseExtensionHandler { String id(); Class<?> value(); }
    """,
    """
    package port; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME)
    @org.jdbi.v3.core.extension.annotation.UseExtensionHandler(id = "SQL_OBJECT", value = Object.class)
    public @interface Counted { String value(); String unit() default "row"; }
    """,
    """
    package port; import java.lang.annotation.*;
    @Retention(RetentionPolicy.RUNTIME)
    @org.jdbi.v3.core.extension.annotation.UseExtensionHandler(id = "AUDIT", value = Object.class)
    public @interface Audited { String value(); }
    """,
    """
    package port;
    public interface Berths {
      @Audited("select what is no statement")
      @StoreQuery(value = "select id from berth where depth > :depth for update", store = Store.MYSQL)
      @StoreQuery(value = "select id from berth where depth > :depth::int", store = Store.POSTGRES)
      int deep(int depth);

      @StoreQuery(value = "select id from berth where pier = :pier", store = Store.POSTGRES)
      int at(int pier);

      @StoreQuery(value = "select id from berth where quay = :quay", store = Store.MYSQL)
      int on(int quay);

      @Counted("select count(*) from berth where pier = :pier")
      int count(int pier);
    }
    """
  };

  @TempDir Path base;

  private FoundQueries scan(String database) {
    CompiledService service = CompiledService.of(base, SERVICE);
    return SqlMethods.scan(
        new SqlMethods.Setting(
            base,
            List.of(service.classes()),
            List.of(service.sources()),
            List.of(),
            new MapperReader(base, database, Map.of()),
            new SqlTemplates(database)),
        ClassFiles.read(base, service.classes()));
  }

  @Test
  void the_statement_for_the_database_is_read_at_its_place() {
    FoundQueries found = scan("postgresql");
    assertThat(found.queries())
        .extracting(it -> it.location().line(), it -> it.sql())
        .containsExactly(
            tuple(8, "select id from berth where pier = :pier"),
            tuple(14, "select count(*) from berth where pier = :pier"),
            tuple(5, "select id from berth where depth > :depth::int"));
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id, UnanalysedQuery::reason)
        .containsExactly(tuple("port.Berths.on", "its statements are other databases'"));
  }

  @Test
  void another_database_has_other_statements() {
    assertThat(scan("mariadb").queries())
        .extracting(it -> it.sql())
        .containsExactlyInAnyOrder(
            "select id from berth where depth > :depth for update",
            "select id from berth where quay = :quay",
            "select count(*) from berth where pier = :pier");
  }
}
