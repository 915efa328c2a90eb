package dev.colonnade.query.jpql;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.mapping.source.MappingReading;
import dev.colonnade.mapping.xml.MappingFiles;
import dev.colonnade.mapping.xml.XmlMappings;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.port.Berth;
import dev.colonnade.query.jpql.port.Booking;
import dev.colonnade.query.jpql.port.Company;
import dev.colonnade.query.jpql.port.CreditNote;
import dev.colonnade.query.jpql.port.Entrance;
import dev.colonnade.query.jpql.port.Exit;
import dev.colonnade.query.jpql.port.Invoice;
import dev.colonnade.query.jpql.port.Movement;
import dev.colonnade.query.jpql.port.Note;
import dev.colonnade.query.jpql.port.Pilot;
import dev.colonnade.query.jpql.port.Tanker;
import dev.colonnade.query.jpql.port.Tug;
import dev.colonnade.query.jpql.port.Vessel;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.source.RepositoryScanner;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import jakarta.persistence.EntityManager;
import jakarta.persistence.metamodel.Metamodel;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.hibernate.Session;
import org.hibernate.SessionFactory;
import org.hibernate.StatelessSession;
import org.hibernate.cfg.Configuration;
import org.hibernate.query.CommonQueryContract;
import org.hibernate.query.QueryParameter;

/**
 * The port's entities in a real database: Hibernate 7.4 makes the tables in H2, says what SQL it
 * would send, and H2 says what it would prepare. The schema that translated queries are read over
 * is H2's own catalogue, so that every table and column name is held against Hibernate's.
 */
final class PortDatabase implements AutoCloseable {
  private static final Pattern PLACEHOLDER =
      Pattern.compile("'(?:[^']|'')*'|(?<!:):[A-Za-z_]\\w*|\\?\\d+|[:?]#\\{[^}]*}");

  static final List<Class<?>> ENTITIES =
      List.of(
          Vessel.class,
          Berth.class,
          Booking.class,
          Company.class,
          CreditNote.class,
          Entrance.class,
          Exit.class,
          Invoice.class,
          Movement.class,
          Note.class,
          Pilot.class,
          Tanker.class,
          Tug.class);

  private final List<String> sent = new ArrayList<>();
  private final SessionFactory sessions;
  private final Connection connection;
  private final Schema schema;
  private final ClassFiles read;
  private final MappingReading mapping;
  private final Path classes;
  private final Path port;
  private final String packageName;

  PortDatabase() throws SQLException, URISyntaxException {
    this("port", ENTITIES, Map.of());
  }

  /**
   * A database of its own for entities of one package.
   *
   * @param entities their classes
   * @param settings what Hibernate is told besides
   */
  PortDatabase(String name, List<Class<?>> entities, Map<String, Object> settings)
      throws SQLException, URISyntaxException {
    this(name, entities, List.of(), settings);
  }

  /**
   * A database of its own for classes that files map.
   *
   * @param classesInFiles classes of one package, in the folder of the same name as the files
   * @param files the mapping files, by their names among the classes
   */
  static PortDatabase mappedIn(String name, List<Class<?>> classesInFiles, List<String> files)
      throws SQLException, URISyntaxException {
    return new PortDatabase(name, classesInFiles, files, Map.of());
  }

  private PortDatabase(
      String name, List<Class<?>> entities, List<String> files, Map<String, Object> settings)
      throws SQLException, URISyntaxException {
    String url = "jdbc:h2:mem:" + name + ";DB_CLOSE_DELAY=-1";
    Configuration configuration =
        new Configuration()
            .setProperty("hibernate.connection.url", url)
            .setProperty("hibernate.hbm2ddl.auto", "create")
            .setStatementInspector(
                sql -> {
                  sent.add(sql);
                  return sql;
                });
    configuration.getProperties().putAll(settings);
    if (files.isEmpty()) {
      entities.forEach(configuration::addAnnotatedClass);
    }
    files.forEach(configuration::addResource);
    sessions = configuration.buildSessionFactory();
    connection = DriverManager.getConnection(url);
    schema = catalogue(connection);
    Class<?> first = entities.get(0);
    packageName = first.getPackageName();
    classes = Path.of(first.getProtectionDomain().getCodeSource().getLocation().toURI());
    port = classes.resolve(packageName.replace('.', '/'));
    read = files.isEmpty() ? ClassFiles.read(classes, port) : mappedInFiles();
    mapping = new MappingReader(read, schema).read(NamingStrategy.JPA);
  }

  /** The classes beside mapping files, alone in a directory as a service's are. */
  private ClassFiles mappedInFiles() {
    try {
      Path alone = Files.createTempDirectory("mapped");
      Path folder = Files.createDirectories(alone.resolve(classes.relativize(port).toString()));
      List<Path> copies = new ArrayList<>();
      try (Stream<Path> beside = Files.list(port)) {
        for (Path file : beside.toList()) {
          copies.add(Files.copy(file, folder.resolve(file.getFileName().toString())));
        }
      }
      XmlMappings said = MappingFiles.read(alone, alone, List.of());
      ClassFiles result = ClassFiles.read(alone, alone, said.classes(), List.of());
      for (Path copy : copies) {
        Files.delete(copy);
      }
      return result;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The tables of a connection's database with their columns. */
  static Schema catalogue(Connection connection) throws SQLException {
    Map<String, List<Column>> tables = new LinkedHashMap<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows =
            statement.executeQuery(
                "select table_name, column_name from information_schema.columns"
                    + " where table_schema = 'PUBLIC' order by table_name, ordinal_position")) {
      while (rows.next()) {
        tables
            .computeIfAbsent(rows.getString(1), name -> new ArrayList<>())
            .add(Column.of(rows.getString(2), ColumnType.of("any", TypeFamily.OTHER), true));
      }
    }
    return new Schema(
        tables.entrySet().stream()
            .map(
                table ->
                    new Table(
                        Identifier.of(table.getKey()),
                        Optional.empty(),
                        table.getValue(),
                        List.of(),
                        List.of(),
                        List.of(),
                        SourceLocation.of("catalogue")))
            .toList(),
        List.of());
  }

  /** What Colonnade says is sent although nobody wrote it, by the end of the id. */
  Map<String, QueryText> unwritten() {
    Map<String, QueryText> result = new TreeMap<>();
    queriesOfRepositories().queries().stream()
        .filter(query -> query.source() == QuerySource.MAPPING)
        .forEach(query -> result.put(query.id().replace(packageName + ".", ""), query));
    return result;
  }

  /** Runs statements as they are. */
  void execute(String... statements) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }

  /** The SQL that Hibernate sends while something is done with a session. */
  List<String> sentWhile(Consumer<Session> before, Consumer<Session> during) {
    try (Session session = sessions.openSession()) {
      session.beginTransaction();
      before.accept(session);
      sent.clear();
      during.accept(session);
      session.flush();
      List<String> result = List.copyOf(sent);
      session.getTransaction().rollback();
      return result;
    }
  }

  /** What Hibernate knows of the classes. */
  Metamodel metamodel() {
    return sessions.getMetamodel();
  }

  MappingReading mapping() {
    return mapping;
  }

  JpqlResult translate(String jpql) {
    return new JpqlTranslator(mapping.mapping(), "h2").translate(jpql);
  }

  /** The further statements of a change of several tables. */
  List<String> further(String jpql) {
    return translate(jpql) instanceof JpqlResult.Translated translated
        ? translated.further()
        : List.of();
  }

  StatementReading read(String sql) {
    return read(sql, "h2");
  }

  StatementReading read(String sql, String name) {
    return new StatementParser(schema, Dialects.byShortName(name).orElseThrow())
        .parse(new QueryText("query", SourceLocation.of("query"), QuerySource.FILE, sql, sql));
  }

  /** Throws unless the database would run the statement. */
  void prepare(String sql) throws SQLException {
    prepare(connection, sql);
  }

  /** Throws unless the connection's database would run the statement. */
  static void prepare(Connection connection, String sql) throws SQLException {
    Matcher matcher = PLACEHOLDER.matcher(sql);
    String plain =
        matcher.replaceAll(
            found -> Matcher.quoteReplacement(found.group().startsWith("'") ? found.group() : "?"));
    try (PreparedStatement statement = connection.prepareStatement(plain)) {
      statement.clearParameters();
    }
  }

  /** The SQL that Hibernate sends for the query: the first statement for SELECT, else all. */
  List<String> sentByHibernate(String jpql) {
    return sentByHibernate(jpql, session -> {});
  }

  /** The same, after something has been done to the session. */
  List<String> sentByHibernate(String jpql, Consumer<Session> before) {
    try (Session session = sessions.openSession()) {
      session.beginTransaction();
      before.accept(session);
      sent.clear();
      boolean selects = jpql.matches("(?is)(select|from|with).*");
      if (selects) {
        var query = session.createSelectionQuery(jpql, Object.class);
        bind(query);
        query.getResultList();
      } else {
        var query = session.createMutationQuery(jpql);
        bind(query);
        query.executeUpdate();
      }
      session.getTransaction().rollback();
    }
    return List.copyOf(sent);
  }

  /** The statements that are sent while the action runs, in a transaction that is rolled back. */
  List<String> sentBy(Consumer<EntityManager> action) {
    try (EntityManager entities = sessions.createEntityManager()) {
      entities.getTransaction().begin();
      sent.clear();
      action.accept(entities);
      entities.getTransaction().rollback();
    }
    return List.copyOf(sent);
  }

  /** The same with a session that keeps nothing. */
  List<String> sentByStateless(Consumer<StatelessSession> action) {
    try (StatelessSession session = sessions.openStatelessSession()) {
      session.beginTransaction();
      sent.clear();
      action.accept(session);
      session.getTransaction().rollback();
    }
    return List.copyOf(sent);
  }

  /** What the repositories beside the entities ask for. */
  FoundQueries queriesOfRepositories() {
    return new RepositoryScanner(classes, port, List.of(), List.of())
        .scan(read, mapping.mapping(), "h2");
  }

  static void bind(CommonQueryContract query) {
    for (QueryParameter<?> parameter : query.getParameterMetadata().getParameters()) {
      String name = parameter.getName();
      if (name.endsWith("List")) {
        query.setParameterList(name, Collections.singletonList(null));
      } else {
        query.setParameter(name, null);
      }
    }
  }

  @Override
  public void close() throws SQLException {
    connection.close();
    sessions.close();
  }
}
