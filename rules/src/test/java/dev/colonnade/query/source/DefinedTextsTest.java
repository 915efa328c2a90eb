package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.source.shed.Stores;
import dev.colonnade.query.source.shed.Stores.DrySheds;
import dev.colonnade.query.source.shed.Stores.Sheds;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.statement.SqlLogger;
import org.jdbi.v3.core.statement.StatementContext;
import org.jdbi.v3.sqlobject.SqlObjectPlugin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Attributes that callers define: what is read of the class files is what Jdbi itself (3.49) sends
 * to H2, type by type.
 */
final class DefinedTextsTest {
  @TempDir Path base;

  @Test
  void each_type_defines_its_own() throws Exception {
    FoundQueries found = scan();
    Map<String, Set<String>> ours = new TreeMap<>();
    found
        .queries()
        .forEach(
            it ->
                ours.computeIfAbsent(shortened(it.id()), id -> new TreeSet<>())
                    .add(flat(it.sql())));
    Map<String, Set<String>> expected = theirs();
    // Called from outside, on whichever object; an order that is not known is left out.
    expected.put("Stores.Store.size", Set.of("select count(*) from shed where 1 = 1"));
    expected.put("Stores.Store.ordered", Set.of("select id from shed"));
    assertThat(ours).isEqualTo(expected);
  }

  @Test
  void what_only_a_running_service_knows_is_one_entry() throws Exception {
    FoundQueries found = scan();
    assertThat(found.unanalysed())
        .extracting(it -> it.id().replaceAll(".*[.]", ""), it -> it.reason())
        .containsExactly(tuple("sized", "what stands for ${table} is not known"));
    assertThat(found.withoutText()).isEqualTo(0);
  }

  private FoundQueries scan() throws Exception {
    Path folder = Path.of("dev/colonnade/query/source/shed");
    Path classes = Path.of(Stores.class.getResource("/" + folder + "/Stores.class").toURI());
    Path copies = Files.createDirectories(base.resolve(folder));
    try (Stream<Path> files = Files.list(classes.getParent())) {
      for (Path file :
          files.filter(it -> it.getFileName().toString().startsWith("Stores")).toList()) {
        Files.copy(file, copies.resolve(file.getFileName().toString()));
      }
    }
    return SqlMethods.scan(
        new SqlMethods.Setting(
            base,
            List.of(base),
            List.of(),
            List.of(),
            new MapperReader(base, "h2", Map.of()),
            new SqlTemplates("h2")),
        ClassFiles.read(base, base));
  }

  private static String flat(String sql) {
    return sql.replaceAll("\\$\\{ids}|:__ids_0", "?").strip();
  }

  private static String shortened(String id) {
    return id.replaceAll("^dev[.]colonnade[.]query[.]source[.]shed[.]", "")
        .replaceAll("^Stores[.](Sheds|DrySheds|Cranes)[.]", "$1.");
  }

  private static Map<String, Set<String>> theirs() {
    Map<String, Set<String>> texts = new TreeMap<>();
    Jdbi jdbi =
        Jdbi.create("jdbc:h2:mem:stores;DB_CLOSE_DELAY=-1").installPlugin(new SqlObjectPlugin());
    jdbi.useHandle(
        handle -> {
          for (String table : List.of("shed", "dry_shed", "crane")) {
            handle.execute("create table " + table + " (id int, code varchar, closed boolean)");
          }
        });
    jdbi.setSqlLogger(
        new SqlLogger() {
          @Override
          public void logAfterExecution(StatementContext context) {
            String type = context.getExtensionMethod().getType().getSimpleName();
            String id = type + "." + context.getExtensionMethod().getMethod().getName();
            texts.computeIfAbsent(id, it -> new TreeSet<>()).add(flat(context.getRenderedSql()));
          }
        });
    List<Stores.Store> stores = new ArrayList<>();
    for (Class<? extends Stores.Store> type :
        List.of(Sheds.class, DrySheds.class, Stores.Cranes.class)) {
      stores.add(jdbi.onDemand(type));
    }
    for (Stores.Store store : stores) {
      store.find(1, true);
      store.find(1, false);
      store.byCode("a");
      store.remove(List.of(1));
      store.sized(1);
    }
    return texts;
  }
}
