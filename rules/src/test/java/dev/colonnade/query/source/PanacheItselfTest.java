package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.jpql.JpqlResult;
import dev.colonnade.query.jpql.JpqlTranslator;
import dev.colonnade.query.source.mole.Ladder;
import dev.colonnade.query.source.mole.Ladders;
import dev.colonnade.query.source.mole.Mooring;
import dev.colonnade.schema.Schema;
import io.quarkus.panache.common.Sort;
import io.quarkus.panache.hibernate.common.runtime.PanacheJpaUtil;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The calls of Panache that a service compiled against Quarkus 3.33 makes, against the queries that
 * Panache's own {@code PanacheJpaUtil} of that version writes for the same fragments and orders.
 */
final class PanacheItselfTest {
  @TempDir private static Path base;

  private static FoundQueries found;
  private static JpqlTranslator translator;

  @BeforeAll
  static void scan() throws IOException {
    Path folder = Path.of("dev/colonnade/query/source/mole");
    Path classes = Path.of(Ladders.class.getResource("/" + folder + "/Ladders.class").getPath());
    Path copies = Files.createDirectories(base.resolve(folder));
    try (Stream<Path> files = Files.list(classes.getParent())) {
      for (Path file : files.toList()) {
        Files.copy(file, copies.resolve(file.getFileName().toString()));
      }
    }
    ClassFiles service = ClassFiles.read(base, base);
    Mapping mapping = new MappingReader(service, Schema.EMPTY).guess().mapping();
    found = new BodyScanner(base, List.of()).scan(service, mapping, "postgresql");
    translator = new JpqlTranslator(mapping, "postgresql");
  }

  private static String find(Class<?> entity, String text, int values, Sort sort) {
    String order = sort == null ? "" : PanacheJpaUtil.toOrderBy(sort);
    return PanacheJpaUtil.createFindQuery(entity, text, values) + order;
  }

  private static String find(String text, int values) {
    return find(Mooring.class, text, values, null);
  }

  private static String find(String text, int values, Sort sort) {
    return find(Mooring.class, text, values, sort);
  }

  private static String count(Class<?> entity, String text, int values) {
    return "select count(*) " + PanacheJpaUtil.createQueryForCount(entity, text, values);
  }

  private static String delete(String text, int values) {
    return PanacheJpaUtil.createDeleteQuery(Mooring.class, text, values);
  }

  private static String update(String text, int values) {
    return PanacheJpaUtil.createUpdateQuery(Mooring.class, text, values);
  }

  private static String all(Class<?> entity) {
    return "FROM " + PanacheJpaUtil.getEntityName(entity);
  }

  /** By the calling method; rows asked for and pages as Panache sets them on the query. */
  private static Map<String, String> theirs() {
    Map<String, String> result = new TreeMap<>();
    result.put("Mooring.own", find("depth > ?1 order by name", 1));
    result.put("Mole.attribute", find("name", 1));
    result.put("Mole.truth", find("taken", 0));
    result.put("Mole.condition", find("name = ?1 and depth > ?2", 2));
    result.put("Mole.spaced", find("name=?1", 1));
    result.put("Mole.streamed", find("name = ?1", 1, Sort.by("depth").descending().and("id")));
    result.put(
        "Mole.sorted",
        find(
            "taken = :taken",
            1,
            Sort.by("name", Sort.Direction.Descending)
                .and("depth", Sort.NullPrecedence.NULLS_FIRST)));
    result.put("Mole.mapped", find("depth < :depth", 1));
    result.put("Mole.ordered", find("order by depth desc, name", 0));
    result.put("Mole.whole", find("select m from Mooring m where m.depth between ?1 and ?2", 2));
    result.put("Mole.begun", find("from Mooring where depth = 4 order by name", 0));
    result.put("Mole.where", find("where depth = 4", 0));
    result.put("Mole.number", count(Mooring.class, "depth", 1));
    result.put("Mole.numberOfOrdered", count(Mooring.class, "order by depth", 0));
    result.put("Mole.all", "select count(*) " + all(Mooring.class));
    result.put(
        "Mole.every",
        all(Mooring.class) + PanacheJpaUtil.toOrderBy(Sort.ascending("name", "depth")));
    result.put(
        "Mole.every2",
        all(Mooring.class) + PanacheJpaUtil.toOrderBy(Sort.descending("name", "depth")));
    result.put("Mole.gone", delete("name", 1));
    result.put("Mole.goneWhere", delete("depth < ?1 and taken = false", 1));
    result.put("Mole.cleared", "DELETE " + all(Mooring.class));
    result.put("Mole.changed", update("depth = 4 where name = ?1", 1));
    result.put("Mole.changedSet", update("set depth = 4, taken = true where name = ?1", 1));
    result.put("Mole.changedFrom", update("update from Mooring set depth = ?1 where name = ?2", 2));
    result.put("Mole.changedAll", update("depth", 1));
    result.put("Mole.first", find("name", 1, Sort.by("depth")) + " limit 1");
    result.put(
        "Mole.page", find("depth > ?1", 1, Sort.by("id")) + " limit :pageSize offset :pageOffset");
    result.put("Mole.counted", count(Mooring.class, "depth > ?1", 1));
    result.put("Mole.short2", find(Ladder.class, "rungs < 3", 0, null));
    result.put("Mole.inherited", all(Ladder.class));
    result.put("NamedThings.shared", find(Ladder.class, "name", 1, null));
    result.put("Ladders.high", count(Ladder.class, "rungs > ?1", 1));
    return result;
  }

  @Test
  void writes_the_same_queries() {
    Map<String, String> theirs = new TreeMap<>();
    theirs()
        .forEach(
            (method, hql) -> {
              // The entity's name goes by its class there, in the marks of a quoted name.
              String named = hql.replaceAll("`?dev[.][\\w.]*[.](\\w+)`?", "$1").replace("`", "");
              JpqlResult result = translator.translate(named);
              assertThat(result).as(named).isInstanceOf(JpqlResult.Translated.class);
              theirs.put(method, ((JpqlResult.Translated) result).sql());
            });
    Map<String, String> ours = new TreeMap<>();
    for (QueryText query : found.queries()) {
      String[] names = query.id().split("[.]", -1);
      ours.put(names[names.length - 2] + "." + names[names.length - 1], query.sql());
    }

    assertThat(ours.remove("Mole.one"))
        .isEqualTo("select e.id, e.name, e.depth, e.taken from Mooring e where e.id = ?");
    assertThat(ours.remove("Mole.left")).isEqualTo("delete from Mooring where id = ?");
    assertThat(ours.remove("Ladders.gone"))
        .isEqualTo("select e.id, e.name, e.rungs from Ladder e where e.id = ?");
    assertThat(ours.remove("Ladders.gone#delete")).isEqualTo("delete from Ladder where id = ?");
    assertThat(ours.remove("Ladders.broken")).isEqualTo("delete from Ladder where id = ?");
    assertThat(ours).isEqualTo(theirs);
  }

  @Test
  void a_fragment_that_is_built_at_run_time_is_listed() {
    assertThat(found.unanalysed())
        .extracting(UnanalysedQuery::id)
        .containsExactly("dev.colonnade.query.source.mole.Mole.built");
  }
}
