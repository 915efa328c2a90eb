package dev.colonnade.query.source;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.mapper.MapperReader;
import dev.colonnade.query.mapper.SqlTemplates;
import dev.colonnade.query.source.shed.StoreHandles;
import dev.colonnade.query.source.shed.Stores;
import dev.colonnade.query.source.shed.Stores.DrySheds;
import dev.colonnade.query.source.shed.Stores.Sheds;
import dev.colonnade.schema.Schema;
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

  @Test
  void texts_given_to_handles_have_what_is_defined() throws Exception {
    FoundQueries found =
        new BodyScanner(base, List.of())
            .scan(
                copied(),
                new MappingReader(ClassFiles.read(base, base), Schema.EMPTY).guess().mapping(),
                "h2");
    Map<String, Set<String>> ours = new TreeMap<>();
    found
        .queries()
        .forEach(
            it ->
                ours.computeIfAbsent(it.id().replaceAll(".*[.]", ""), id -> new TreeSet<>())
                    .add(flat(it.sql())));
    Map<String, Set<String>> theirs = new TreeMap<>();
    Jdbi jdbi = stores("handles");
    String[] method = new String[1];
    jdbi.setSqlLogger(
        new SqlLogger() {
          @Override
          public void logAfterExecution(StatementContext context) {
            theirs
                .computeIfAbsent(method[0], it -> new TreeSet<>())
                // The parser of parameters takes the backslash away later.
                .add(flat(context.getRenderedSql().replace("\\<", "<")));
          }
        });
    StoreHandles handles = new StoreHandles(jdbi);
    for (boolean yes : new boolean[] {true, false}) {
      method[0] = "find";
      handles.find(yes);
      method[0] = "codes";
      handles.codes(yes);
      method[0] = "listed";
      handles.listed(yes);
    }
    method[0] = "remove";
    handles.remove(List.of(1));
    assertThat(ours).isEqualTo(theirs);
    assertThat(found.unanalysed())
        .extracting(it -> it.id().replaceAll(".*[.]", ""))
        .containsExactly("ids", "limited");
  }

  private FoundQueries scan() throws Exception {
    return SqlMethods.scan(
        new SqlMethods.Setting(
            base,
            List.of(base),
            List.of(),
            List.of(),
            new MapperReader(base, "h2", Map.of()),
            new SqlTemplates("h2")),
        copied());
  }

  private ClassFiles copied() throws Exception {
    Path folder = Path.of("dev/colonnade/query/source/shed");
    Path classes = Path.of(Stores.class.getResource("/" + folder + "/Stores.class").toURI());
    Path copies = Files.createDirectories(base.resolve(folder));
    try (Stream<Path> files = Files.list(classes.getParent())) {
      for (Path file : files.toList()) {
        Files.copy(file, copies.resolve(file.getFileName().toString()));
      }
    }
    return ClassFiles.read(base, base);
  }

  private static String flat(String sql) {
    return sql.replaceAll("\\$\\{ids}|:__ids_0|<ids>", "?").replaceAll("\\s+", " ").strip();
  }

  private static String shortened(String id) {
    return id.replaceAll("^dev[.]colonnade[.]query[.]source[.]shed[.]", "")
        .replaceAll("^Stores[.](Sheds|DrySheds|Cranes)[.]", "$1.");
  }

  private static Jdbi stores(String database) {
    Jdbi jdbi =
        Jdbi.create("jdbc:h2:mem:" + database + ";DB_CLOSE_DELAY=-1")
            .installPlugin(new SqlObjectPlugin());
    jdbi.useHandle(
        handle -> {
          for (String table : List.of("shed", "dry_shed", "crane")) {
            handle.execute("create table " + table + " (id int, code varchar, closed boolean)");
          }
        });
    return jdbi;
  }

  private static Map<String, Set<String>> theirs() {
    Map<String, Set<String>> texts = new TreeMap<>();
    Jdbi jdbi = stores("objects");
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
