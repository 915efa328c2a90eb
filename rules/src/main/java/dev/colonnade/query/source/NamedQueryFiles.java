package dev.colonnade.query.source;

import static java.nio.charset.StandardCharsets.UTF_8;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.SourceLocator.Place;
import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Properties;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * The files in which Spring Data looks for queries of repository methods under {@code
 * Entity.method}: {@code META-INF/jpa-named-queries.properties} and its kin (Spring Data JPA, JDBC
 * and R2DBC references, "Named Queries"). A query's id is {@code FILE#NAME}.
 */
public final class NamedQueryFiles {
  /** By the names of the files, true where their texts are SQL. */
  private static final Map<String, Boolean> FILES =
      Map.of(
          "jdbc-named-queries.properties", true,
          "jpa-named-queries.properties", false,
          "r2dbc-named-queries.properties", true);

  private final Path baseDirectory;
  private final Map<Path, Properties> read = new TreeMap<>();
  private final Map<Path, List<String>> lines = new TreeMap<>();
  private final List<NotUnderstood> unreadable = new ArrayList<>();

  private NamedQueryFiles(Path baseDirectory) {
    this.baseDirectory = baseDirectory;
  }

  /**
   * Reads the files.
   *
   * @param baseDirectory what file names are relative to
   * @param resources directories with the files of the class path, the one that counts first
   */
  public static NamedQueryFiles read(Path baseDirectory, List<Path> resources) {
    NamedQueryFiles result = new NamedQueryFiles(baseDirectory);
    for (String name : new TreeSet<>(FILES.keySet())) {
      resources.stream()
          .map(directory -> directory.resolve("META-INF").resolve(name))
          .filter(Files::isRegularFile)
          .findFirst()
          .ifPresent(result::add);
    }
    return result;
  }

  private void add(Path file) {
    try {
      String text = Files.readString(file, UTF_8);
      Properties properties = new Properties();
      properties.load(new StringReader(text));
      read.put(file, properties);
      lines.put(file, text.lines().toList());
    } catch (IOException | IllegalArgumentException e) {
      unreadable.add(
          new NotUnderstood(
              SourceLocation.of(RelativePath.of(baseDirectory, file)),
              "the file of named queries cannot be read"));
    }
  }

  /** The names that have a query, which goes before what a method's name says. */
  public Set<String> names() {
    Set<String> result = new TreeSet<>();
    read.values().forEach(properties -> result.addAll(properties.stringPropertyNames()));
    return result;
  }

  /**
   * The queries in SQL, and those that cannot be put into SQL.
   *
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public FoundQueries queries(Mapping mapping, String database) {
    List<QueryText> queries = new ArrayList<>();
    List<UnanalysedQuery> unanalysed = new ArrayList<>();
    EntityQueries entities = new EntityQueries(mapping, database, queries, unanalysed);
    read.forEach(
        (file, properties) -> {
          String name = RelativePath.of(baseDirectory, file);
          boolean isSql = FILES.get(String.valueOf(file.getFileName()));
          for (String key : new TreeSet<>(properties.stringPropertyNames())) {
            String text = properties.getProperty(key);
            Place place = place(file, name, key);
            String id = name + "#" + key;
            if (text.isBlank()) {
              unanalysed.add(new UnanalysedQuery(id, place.location(), "the entry holds no text"));
            } else if (isSql) {
              queries.add(
                  new QueryText(
                      id,
                      place.location(),
                      QuerySource.MAPPER,
                      text,
                      Patterns.written(text),
                      place.textLine()));
            } else {
              entities.written(id, place, QuerySource.MAPPER, text, Optional.empty(), false);
            }
          }
        });
    return new FoundQueries(queries, unanalysed, unreadable);
  }

  private Place place(Path file, String name, String key) {
    Pattern start = Pattern.compile("\\s*" + Pattern.quote(key) + "\\s*[=:\\s].*");
    List<String> text = lines.get(file);
    for (int i = 0; i < text.size(); i++) {
      if (start.matcher(text.get(i)).matches()) {
        SourceLocation location = SourceLocation.of(name, i + 1);
        boolean goesOn = text.get(i).endsWith("\\");
        return new Place(location, goesOn ? OptionalInt.empty() : OptionalInt.of(i + 1));
      }
    }
    return new Place(SourceLocation.of(name), OptionalInt.empty());
  }
}
