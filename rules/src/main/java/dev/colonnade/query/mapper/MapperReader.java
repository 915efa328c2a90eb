package dev.colonnade.query.mapper;

import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.mapper.XmlNode.Element;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.xml.sax.InputSource;

/**
 * Reads MyBatis mapper files and the scripts in its annotations.
 *
 * <p>A statement's id is {@code namespace.id}, which each of its variants has: first the one with
 * every optional part, then the one with none, then the others in the order of the file. The key
 * that an insert selects is {@code namespace.id!selectKey}.
 */
public final class MapperReader {
  /** How the reason starts why a text is not analysed that holds something unknown. */
  public static final String OPEN_PART = "what stands for ";

  private static final Set<String> STATEMENTS = Set.of("select", "insert", "update", "delete");
  private static final Set<String> WITHOUT_SQL =
      Set.of("cache", "cache-ref", "resultMap", "parameterMap", "sql");
  private static final String SELECT_KEY = "selectKey";

  private record Mapper(String file, String namespace, Element root) {
    Fragments.Source source() {
      return new Fragments.Source(file, namespace);
    }
  }

  private final Path baseDirectory;
  private final Map<String, String> properties;
  private final Set<String> databaseIds;
  private final TableNames tables;

  /**
   * A reader that knows no table.
   *
   * @param baseDirectory what file names are relative to
   * @param database Liquibase's short name of the database
   * @param properties values of {@code ${name}} as MyBatis is configured with them
   */
  public MapperReader(Path baseDirectory, String database, Map<String, String> properties) {
    this(baseDirectory, database, properties, TableNames.NONE);
  }

  /**
   * A reader.
   *
   * @param baseDirectory what file names are relative to
   * @param database Liquibase's short name of the database
   * @param properties values of {@code ${name}} as MyBatis is configured with them
   * @param tables what tells the prefixes of tables that are not among the properties
   */
  public MapperReader(
      Path baseDirectory, String database, Map<String, String> properties, TableNames tables) {
    this.baseDirectory = baseDirectory;
    this.properties = Map.copyOf(properties);
    this.databaseIds = DatabaseIds.of(database);
    this.tables = tables;
  }

  /** Every statement of the files, which may include each other's parts. Never throws. */
  public MapperReading read(Collection<Path> files) {
    StatementReader reader = new StatementReader(databaseIds, tables);
    List<Mapper> mappers = new ArrayList<>();
    Map<String, String> values = new HashMap<>();
    for (Path file :
        files.stream().map(it -> it.toAbsolutePath().normalize()).distinct().sorted().toList()) {
      parse(file, reader, mappers, values);
    }
    values.putAll(properties);
    guessPrefixes(mappers, reader, values);
    Fragments fragments = new Fragments(values);
    Set<String> told = new HashSet<>();
    for (Mapper mapper : mappers) {
      XmlReader.named(mapper.root(), "sql").stream()
          .sorted(Comparator.comparing(sql -> sql.attribute("databaseId").isEmpty()))
          .filter(sql -> isOurs(sql) || sql.attribute("databaseId").isEmpty())
          .forEach(sql -> fragments.add(mapper.source(), sql));
    }
    for (Mapper mapper : mappers) {
      statements(mapper, fragments, reader);
      fragments.guesses().stream()
          .filter(told::add)
          .forEach(guess -> reader.note(SourceLocation.of(mapper.file()), guess));
    }
    return reader.result();
  }

  /** Names of tables start with something that no property tells: the schema may tell it. */
  private void guessPrefixes(
      List<Mapper> mappers, StatementReader reader, Map<String, String> values) {
    Map<String, Mapper> texts = new LinkedHashMap<>();
    mappers.forEach(mapper -> texts(mapper.root()).forEach(text -> texts.put(text, mapper)));
    tables
        .guesses(texts.keySet(), values.keySet())
        .forEach(
            (part, guess) -> {
              values.put(part, guess.value());
              texts.entrySet().stream()
                  .filter(text -> text.getKey().contains("${" + part + "}"))
                  .findFirst()
                  .ifPresent(
                      text ->
                          reader.note(SourceLocation.of(text.getValue().file()), guess.told(part)));
            });
  }

  private static List<String> texts(Element element) {
    return element.children().stream()
        .flatMap(
            child ->
                child instanceof XmlNode.Text text
                    ? Stream.of(text.text())
                    : texts((Element) child).stream())
        .toList();
  }

  /**
   * A statement of an annotation.
   *
   * @param script the text; a script where it stands in {@code <script>}
   */
  public MapperReading script(String id, SourceLocation location, String script) {
    StatementReader reader = new StatementReader(databaseIds, tables);
    try {
      String text = script.strip();
      Element statement =
          text.startsWith("<script>")
              ? XmlReader.read(new InputSource(new StringReader(text)))
              : new Element("script", Map.of(), List.of(new XmlNode.Text(text, 1)), 1);
      Map<String, String> values = new HashMap<>(properties);
      tables
          .guesses(List.of(text), values.keySet())
          .forEach((part, guess) -> values.put(part, guess.value()));
      reader.read(
          id,
          location,
          QuerySource.ANNOTATION,
          new Fragments(values).expand(Fragments.Source.NONE, statement));
    } catch (UnreadableMapperException e) {
      reader.unanalysed(id, location, e.getMessage() + " in line " + e.line() + " of its text");
    }
    return reader.result();
  }

  private void parse(
      Path file, StatementReader reader, List<Mapper> mappers, Map<String, String> values) {
    String name = RelativePath.of(baseDirectory, file);
    try (InputStream in = Files.newInputStream(file)) {
      Element root = XmlReader.read(new InputSource(in));
      if (root.name().equals("mapper")) {
        mappers.add(new Mapper(name, root.attribute("namespace"), root));
      } else if (root.name().equals("configuration")) {
        XmlReader.named(root, "properties").stream()
            .flatMap(it -> XmlReader.named(it, "property").stream())
            .forEach(it -> values.put(it.attribute("name"), it.attribute("value")));
      } else {
        reader.note(
            SourceLocation.of(name, root.line()),
            "the file is no mapper: its root is <" + root.name() + ">");
      }
    } catch (UnreadableMapperException e) {
      reader.note(SourceLocation.of(name, e.line()), e.getMessage());
    } catch (IOException e) {
      reader.note(SourceLocation.of(name), "the file cannot be read");
    }
  }

  private void statements(Mapper mapper, Fragments fragments, StatementReader reader) {
    Set<String> ours = ids(mapper, this::isOurs);
    Set<String> chosen = ids(mapper, it -> isOurs(it.attribute("databaseId")));
    List<Element> others = new ArrayList<>();
    Map<String, Integer> taken = new HashMap<>();
    for (Element element : mapper.root().elements()) {
      SourceLocation location = SourceLocation.of(mapper.file(), element.line());
      String id = mapper.namespace() + "." + element.attribute("id");
      String databaseId = element.attribute("databaseId");
      if (!STATEMENTS.contains(element.name())) {
        if (!WITHOUT_SQL.contains(element.name())) {
          reader.note(location, "the element <" + element.name() + "> is not known");
        }
      } else if (!databaseId.isEmpty() && !DatabaseIds.isKnown(databaseId)) {
        if (!chosen.contains(element.attribute("id"))) {
          reader.unanalysed(id, location, unknownDatabase(databaseId));
        }
      } else if (DatabaseIds.isOfOthers(element.attribute("id"), chosen, databaseIds)) {
        others.add(element);
      } else if (isOurs(element)
          || (databaseId.isEmpty() && !ours.contains(element.attribute("id")))) {
        int number = taken.merge(id, 1, Integer::sum);
        statement(
            number == 1 ? id : id + "~" + number, mapper, location, element, fragments, reader);
      }
    }
    if (!others.isEmpty()) {
      Element first = others.get(0);
      reader.note(
          SourceLocation.of(mapper.file(), first.line()),
          "by their names, "
              + others.size()
              + " of its statements are other databases': the first is "
              + first.attribute("id"));
    }
  }

  private static Set<String> ids(Mapper mapper, Predicate<Element> which) {
    return mapper.root().elements().stream()
        .filter(it -> STATEMENTS.contains(it.name()) && which.test(it))
        .map(it -> it.attribute("id"))
        .collect(Collectors.toSet());
  }

  /** Whether a {@code databaseId} is the database's, or none. */
  public boolean isOurs(String databaseId) {
    return databaseId.isEmpty() || databaseIds.contains(databaseId.toLowerCase(Locale.ROOT));
  }

  /** Whether a supported database is called so. */
  public boolean isKnown(String databaseId) {
    return DatabaseIds.isKnown(databaseId) || isOurs(databaseId);
  }

  /**
   * Of statements in the same place those for the database; where there is none, those for any, and
   * those whose database is not known.
   *
   * @param databaseId the database that a statement names, empty for any
   */
  public <T> List<T> ofThisDatabase(List<T> statements, Function<T, String> databaseId) {
    List<T> ours =
        statements.stream()
            .filter(it -> !databaseId.apply(it).isEmpty() && isOurs(databaseId.apply(it)))
            .toList();
    return ours.isEmpty()
        ? statements.stream()
            .filter(it -> databaseId.apply(it).isEmpty() || !isKnown(databaseId.apply(it)))
            .toList()
        : ours;
  }

  /** Why a statement of such a {@code databaseId} is not analysed. */
  public static String unknownDatabase(String databaseId) {
    return "which database is called '" + databaseId + "' is not known";
  }

  private boolean isOurs(Element element) {
    String databaseId = element.attribute("databaseId");
    return !databaseId.isEmpty() && isOurs(databaseId);
  }

  private static void statement(
      String id,
      Mapper mapper,
      SourceLocation location,
      Element element,
      Fragments fragments,
      StatementReader reader) {
    try {
      Element expanded = fragments.expand(mapper.source(), element);
      reader.read(id, location, QuerySource.MAPPER, expanded);
      for (Element key : XmlReader.named(expanded, SELECT_KEY)) {
        reader.read(
            id + "!" + SELECT_KEY,
            SourceLocation.of(mapper.file(), key.line()),
            QuerySource.MAPPER,
            key);
      }
    } catch (UnreadableMapperException e) {
      reader.unanalysed(id, SourceLocation.of(mapper.file(), e.line()), e.getMessage());
    }
  }
}
