package dev.colonnade.query.source;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Schema;
import java.io.File;
import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A service compiled with the annotation processors of Micronaut 4.10 and Micronaut Data 4.14: the
 * queries that Micronaut itself finds for its repositories are those that are read.
 */
final class MicronautItselfTest {
  private static final Path JARS = Path.of("target/micronaut");

  private static final String BERTH =
      """
      package port;
      import io.micronaut.data.annotation.*;
      @MappedEntity
      @Where("@.depth > 0")
      public class Berth {
        @Id @GeneratedValue private Long id;
        private String name;
        private int depth;
        @Relation(Relation.Kind.MANY_TO_ONE) private Pier pier;
        public Long getId() { return id; }
        public void setId(Long id) { this.id = id; }
        public String getName() { return name; }
        public void setName(String name) { this.name = name; }
        public int getDepth() { return depth; }
        public void setDepth(int depth) { this.depth = depth; }
        public Pier getPier() { return pier; }
        public void setPier(Pier pier) { this.pier = pier; }
      }
      """;
  private static final String PIER =
      """
      package port;
      import io.micronaut.data.annotation.*;
      @MappedEntity
      public class Pier {
        @Id private Long id;
        private String code;
        public Long getId() { return id; }
        public void setId(Long id) { this.id = id; }
        public String getCode() { return code; }
        public void setCode(String code) { this.code = code; }
      }
      """;
  private static final String BERTHS =
      """
      package port;
      import io.micronaut.data.annotation.*;
      import io.micronaut.data.jdbc.annotation.JdbcRepository;
      import io.micronaut.data.model.*;
      import io.micronaut.data.model.query.builder.sql.Dialect;
      import io.micronaut.data.repository.PageableRepository;
      import java.util.*;
      @JdbcRepository(dialect = Dialect.POSTGRES)
      public interface Berths extends PageableRepository<Berth, Long> {
        List<Berth> findByNameAndDepthGreaterThan(String name, int depth);
        List<Berth> findByNameInListOrDepthBetween(List<String> names, int least, int most);
        List<Berth> findByNameIlike(String pattern);
        List<Berth> findByPierCode(String code);
        Page<Berth> findByName(String name, Pageable page);
        Slice<Berth> findByDepth(int depth, Pageable page);
        List<Berth> findByNameOrderByDepthDesc(String name);
        List<Berth> findByName(String name, Sort sort);
        List<Berth> listOrderByName();
        long countByDepth(int depth);
        boolean existsByName(String name);
        void deleteByName(String name);
        void updateByName(String name, int depth);
        void update(@Id Long id, int depth);
        @Join("pier") List<Berth> searchByDepth(int depth);
        @Join(value = "pier", type = Join.Type.LEFT_FETCH) Optional<Berth> findById(Long id);
        List<String> findNameByDepth(int depth);
        int findMaxDepthByName(String name);
        Optional<Berth> findFirstByNameOrderByDepth(String name);
        List<Berth> findTop3ByName(String name);
        Berth save(Long id, String name, int depth, Pier pier);
        @Query("select * from berth b where b.depth > :depth") List<Berth> deep(int depth);
        @Query(value = "select * from berth b where b.name = :name",
            countQuery = "select count(*) from berth b where b.name = :name")
        Page<Berth> named(String name, Pageable page);
      }
      """;
  private static final String QUAY =
      """
      package port;
      import jakarta.persistence.*;
      @Entity
      public class Quay {
        @Id private Long id;
        private String name;
        private int depth;
        @ManyToOne private Quay next;
        public Long getId() { return id; }
        public void setId(Long id) { this.id = id; }
        public String getName() { return name; }
        public void setName(String name) { this.name = name; }
        public int getDepth() { return depth; }
        public void setDepth(int depth) { this.depth = depth; }
        public Quay getNext() { return next; }
        public void setNext(Quay next) { this.next = next; }
      }
      """;
  private static final String QUAYS =
      """
      package port;
      import io.micronaut.data.annotation.*;
      import io.micronaut.data.repository.CrudRepository;
      import java.util.*;
      @Repository
      public interface Quays extends CrudRepository<Quay, Long> {
        List<Quay> findByNameAndDepthGreaterThan(String name, int depth);
        List<Quay> findByNextNameOrderByDepth(String name);
        void updateByName(String name, int depth);
        void deleteByName(String name);
        boolean existsByDepth(int depth);
        @Query("from Quay q where q.depth < :depth") List<Quay> shallow(int depth);
      }
      """;

  @TempDir private static Path base;

  private static String jars;
  private static FoundQueries found;
  private static FoundQueries alone;

  @BeforeAll
  static void compileAndScan() throws IOException, InterruptedException {
    try (Stream<Path> files = Files.list(JARS)) {
      jars = files.map(Path::toString).sorted().collect(Collectors.joining(File.pathSeparator));
    }
    compile("with", List.of("-processorpath", jars));
    compile("without", List.of("-proc:none"));
    found = scan("with");
    alone = scan("without");
  }

  private static void compile(String output, List<String> options)
      throws IOException, InterruptedException {
    Path sources = Files.createDirectories(base.resolve("src/main/java/port"));
    Path classes = Files.createDirectories(base.resolve(output));
    List<Path> files = new ArrayList<>();
    for (String source : List.of(BERTH, PIER, BERTHS, QUAY, QUAYS)) {
      String name = source.replaceFirst("(?s).*?public (?:class|interface) (\\w+).*", "$1");
      files.add(Files.writeString(sources.resolve(name + ".java"), source));
    }
    List<String> all = new ArrayList<>(options);
    all.addAll(List.of("-parameters", "-d", classes.toString(), "-cp", jars));
    files.forEach(file -> all.add(file.toString()));
    // In a process of its own: a processor of this one would find libraries of the tests first.
    all.add(0, Path.of(System.getProperty("java.home"), "bin", "javac").toString());
    Process javac = new ProcessBuilder(all).redirectErrorStream(true).start();
    String messages = new String(javac.getInputStream().readAllBytes(), UTF_8);
    assertThat(javac.waitFor()).as(messages).isZero();
  }

  private static FoundQueries scan(String output) {
    Path directory = base.resolve(output);
    ClassFiles classes = ClassFiles.read(base, directory);
    Mapping mapping = new MappingReader(classes, Schema.EMPTY).guess().mapping();
    return new RepositoryScanner(base, directory, List.of(base.resolve("src/main/java")), List.of())
        .scan(classes, mapping, "postgresql");
  }

  /** The queries of a repository as Micronaut finds them when it runs, by method, sorted. */
  private static Map<String, List<String>> theirs(String repository) throws Exception {
    List<URL> places = new ArrayList<>(List.of(base.resolve("with").toUri().toURL()));
    for (String jar : jars.split(File.pathSeparator, -1)) {
      places.add(Path.of(jar).toUri().toURL());
    }
    Map<String, List<String>> result = new TreeMap<>();
    try (URLClassLoader loader =
        new URLClassLoader(places.toArray(URL[]::new), ClassLoader.getPlatformClassLoader())) {
      Object definition =
          loader
              .loadClass("port.$" + repository + "$Intercepted$Definition")
              .getDeclaredConstructor()
              .newInstance();
      Class<?> bean = loader.loadClass("io.micronaut.inject.BeanDefinition");
      Class<?> executable = loader.loadClass("io.micronaut.inject.ExecutableMethod");
      Collection<?> methods =
          (Collection<?>) bean.getMethod("getExecutableMethods").invoke(definition);
      for (Object method : methods) {
        String name = (String) executable.getMethod("getMethodName").invoke(method);
        for (String attribute : List.of("value", "countQuery")) {
          Optional<?> text =
              (Optional<?>)
                  executable
                      .getMethod("stringValue", String.class, String.class)
                      .invoke(method, "io.micronaut.data.annotation.Query", attribute);
          String kind = attribute.equals("value") ? name : name + "#count";
          text.ifPresent(
              it -> result.computeIfAbsent(kind, key -> new ArrayList<>()).add((String) it));
        }
      }
    }
    result.values().forEach(texts -> texts.sort(null));
    return result;
  }

  private static Map<String, List<String>> ours(FoundQueries queries, String repository) {
    Map<String, List<String>> result = new TreeMap<>();
    for (QueryText query : queries.queries()) {
      String prefix = "port." + repository + ".";
      if (query.id().startsWith(prefix)) {
        String name = query.id().substring(prefix.length()).replaceFirst("~\\d+", "");
        result.computeIfAbsent(name, key -> new ArrayList<>()).add(query.text());
      }
    }
    result.values().forEach(texts -> texts.sort(null));
    return result;
  }

  @Test
  void reads_what_the_processor_wrote() throws Exception {
    Map<String, List<String>> theirs = theirs("Berths");
    Map<String, List<String>> ours = ours(found, "Berths");
    // Rows that are inserted by an inherited method follow from the mapping alone.
    assertThat(theirs.remove("saveAll")).hasSize(1);
    assertThat(theirs.remove("save")).hasSize(2).containsAll(ours.remove("save"));

    assertThat(ours).isEqualTo(theirs);
    assertThat(theirs).hasSizeGreaterThan(25).containsKeys("findById", "deleteAll", "named#count");
  }

  @Test
  void reads_what_the_processor_wrote_in_jpql() throws Exception {
    Map<String, List<String>> theirs = theirs("Quays");

    assertThat(ours(found, "Quays")).isEqualTo(theirs);
    assertThat(theirs).hasSizeGreaterThan(10).containsKeys("findById", "shallow");
    assertThat(found.unanalysed()).isEmpty();
    assertThat(found.unreadable()).isEmpty();
  }

  @Test
  void a_database_takes_every_statement() throws Exception {
    try (Connection connection =
            DriverManager.getConnection(
                "jdbc:h2:mem:micronaut;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE");
        Statement statement = connection.createStatement()) {
      statement.execute("create table pier (id bigint primary key, code text)");
      statement.execute(
          "create table berth (id bigint primary key, name text, depth int, pier_id bigint)");
      statement.execute(
          "create table quay (id bigint primary key, name text, depth int, next_id bigint)");
      for (QueryText query : found.queries()) {
        String sql = query.sql().replaceAll("(?<!:):\\w+", "?");
        connection.prepareStatement(sql).close();
      }
    }
    assertThat(found.queries()).hasSizeGreaterThan(50);
  }

  @Test
  void each_query_points_at_its_method() {
    assertThat(found.queries())
        .filteredOn(query -> query.id().equals("port.Berths.findByPierCode"))
        .extracting(query -> query.location().toString(), QueryText::source)
        .containsExactly(tuple("src/main/java/port/Berths.java:13", QuerySource.METHOD_NAME));
    assertThat(found.queries())
        .filteredOn(query -> query.id().equals("port.Berths.deleteById"))
        .extracting(QueryText::source)
        .containsExactly(QuerySource.INHERITED_METHOD);
  }

  @Test
  void a_page_is_limited() {
    assertThat(found.queries())
        .filteredOn(query -> query.id().equals("port.Berths.findByDepth"))
        .extracting(QueryText::sql)
        .singleElement()
        .asString()
        .endsWith("limit :pageSize offset :pageOffset");
  }

  @Test
  void without_the_processor_names_over_entities_are_read_and_the_rest_is_listed() {
    assertThat(alone.queries())
        .filteredOn(query -> query.id().equals("port.Quays.findByNextNameOrderByDepth"))
        .extracting(QueryText::sql)
        .singleElement()
        .asString()
        .contains("where", "order by")
        .contains("name = ?");
    assertThat(alone.unanalysed())
        .extracting(it -> it.id() + ": " + it.reason())
        .contains("port.Berths.findByPierCode: port.Berth is no entity with a mapping");
    assertThat(ours(alone, "Berths")).containsOnlyKeys("deep", "named", "named#count");
  }
}
