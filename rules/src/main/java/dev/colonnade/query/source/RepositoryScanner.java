package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Aggregates;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.jpql.MappingStatements;
import dev.colonnade.query.source.SourceLocator.Place;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/**
 * Finds queries in the annotations of compiled classes, without loading any of them, and their
 * lines in the Java sources.
 *
 * <p>A query's id is {@code package.Type.method}; of overloaded methods with queries the second in
 * the order of their parameter types is {@code package.Type.method~2}. A count query is {@code
 * package.Type.method#count}, a named query {@code package.Type#name}, a further statement of the
 * same method {@code package.Type.method#2}. What follows from the mapping of an entity is {@code
 * package.Entity.attribute}, {@code package.Entity#load}, {@code package.Entity#update}.
 */
public final class RepositoryScanner {
  private final Path baseDirectory;
  private final Path classesDirectory;
  private final List<Path> sourceDirectories;
  private final List<QueryAnnotation> annotations;

  /**
   * A scanner.
   *
   * @param baseDirectory what file names are relative to
   * @param classesDirectory where the class files are; one that does not exist has none
   * @param sourceDirectories where the sources are looked up, in this order
   * @param annotations further annotations that hold SQL
   */
  public RepositoryScanner(
      Path baseDirectory,
      Path classesDirectory,
      List<Path> sourceDirectories,
      List<QueryAnnotation> annotations) {
    this.baseDirectory = baseDirectory;
    this.classesDirectory = classesDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
    this.annotations = List.copyOf(annotations);
  }

  /**
   * Every query of every class, without the mapping of entities. What is JPQL, or derived from a
   * method's name, or has no text, is listed as not analysed; a class file that cannot be read
   * becomes one entry of its own.
   */
  public FoundQueries scan() {
    return new Scan(
            ClassFiles.read(baseDirectory, classesDirectory),
            Optional.empty(),
            Aggregates.NONE,
            Set.of(),
            "")
        .run();
  }

  /**
   * Every query of every class: JPQL is translated, names of methods are turned into queries, the
   * queries that repositories inherit are added. What is not understood is listed with the reason.
   *
   * @param classes the service's classes, read before
   * @param mapping its entities
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public FoundQueries scan(ClassFiles classes, Mapping mapping, String database) {
    return scan(classes, mapping, Aggregates.NONE, Set.of(), database);
  }

  /**
   * Every query of every class, those over aggregates included.
   *
   * @param classes the service's classes, read before
   * @param mapping its entities
   * @param aggregates what Spring Data JDBC and R2DBC keep
   * @param named queries that files hold, {@code Entity.method}
   * @param database Liquibase's short name of the database that SQL is written for
   */
  public FoundQueries scan(
      ClassFiles classes,
      Mapping mapping,
      Aggregates aggregates,
      Set<String> named,
      String database) {
    return new Scan(classes, Optional.of(mapping), aggregates, named, database).run();
  }

  /**
   * The binary names of the classes that repositories are for, true for those of which one gives
   * its results later.
   */
  public static Map<String, Boolean> domainTypes(ClassFiles classes) {
    return new SpringRepositories(classes).domainTypes();
  }

  private final class Scan {
    private final ClassFiles classes;
    private final Optional<Mapping> mapping;
    private final Set<String> named;
    private final String database;
    private final AnnotationTexts texts;
    private final SpringRepositories repositories;
    private final Places places = new Places(baseDirectory, sourceDirectories);
    private final QueryIds ids = new QueryIds();
    private final List<QueryText> queries = new ArrayList<>();
    private final List<UnanalysedQuery> unanalysed = new ArrayList<>();
    private final MethodSignatures signatures;
    private final EntityGraphs graphs;
    private final Optional<EntityQueries> entities;
    private final AggregateQueries aggregates;
    private final WrittenQueries written;
    private final Set<DotName> inherited = new HashSet<>();
    private final GeneratedQueries generated;

    Scan(
        ClassFiles classes,
        Optional<Mapping> mapping,
        Aggregates aggregates,
        Set<String> named,
        String database) {
      this.named = named;
      this.classes = classes;
      this.mapping = mapping;
      this.database = database;
      this.signatures = new MethodSignatures(classes);
      this.graphs = new EntityGraphs(classes);
      this.entities = mapping.map(it -> new EntityQueries(it, database, queries, unanalysed));
      this.texts = new AnnotationTexts(annotations, classes);
      this.repositories = new SpringRepositories(classes);
      this.aggregates =
          new AggregateQueries(
              aggregates,
              database,
              new AggregateQueries.Service(repositories, signatures, ids),
              queries,
              unanalysed);
      this.written =
          new WrittenQueries(entities, this.aggregates, repositories, queries, unanalysed);
      this.generated = new GeneratedQueries(classes, places, ids, written);
    }

    FoundQueries run() {
      List<ClassFile> types =
          classes.all().stream().filter(file -> !file.info().isAnnotation()).toList();
      types.forEach(generated::read);
      List<ClassFile> concrete = new ArrayList<>();
      for (ClassFile file : types) {
        readType(file);
        if (entities.isPresent()
            && repositories.isConcrete(file.info())
            && !generated.has(file.info())) {
          concrete.add(file);
          readBases(file);
        }
      }
      for (ClassFile file : types) {
        if (!inherited.contains(file.info().name())) {
          readMethods(file, file);
        }
      }
      // After the methods that are declared, which give their names to their queries.
      concrete.forEach(this::readInherited);
      entities.ifPresent(it -> new Removals(classes, it).note());
      mapping.ifPresent(this::readMapping);
      aggregates.readMapping(places);
      List<NotUnderstood> unreadable = new ArrayList<>(generated.unreadable());
      unreadable.addAll(classes.unreadable());
      return new FoundQueries(queries, unanalysed, unreadable);
    }

    /** What follows from the mapping of entities. */
    private void readMapping(Mapping mapping) {
      MappingStatements statements = new MappingStatements(mapping, database);
      Set<Entity> deleted = statements.deletedWith(entities.get().deleted());
      for (Entity entity : mapping.entities()) {
        SourceLocation location = places.of(entity);
        String name = entity.className().replace('$', '.');
        statements
            .of(entity, deleted.contains(entity))
            .forEach(
                (suffix, unwritten) ->
                    entities.get().unwritten(ids.unique(name + suffix), location, unwritten));
      }
    }

    /** What a repository has from generic interfaces above. */
    private void readBases(ClassFile file) {
      for (ClassInfo base : repositories.genericBases(file.info())) {
        inherited.add(base.name());
        classes.lookUp(base.name()).ifPresent(declaring -> readMethods(declaring, file));
      }
    }

    /** What a repository has from Spring Data's own interfaces. */
    private void readInherited(ClassFile file) {
      if (!repositories.hasCrudMethods(file.info())) {
        return;
      }
      Optional<String> type = repositories.entityClass(file.info());
      Optional<Entity> entity = type.flatMap(entities.get()::entity);
      SourceLocation location = places.of(file);
      if (entity.isPresent()) {
        for (String name : EntityQueries.inheritedLoads(entity.get())) {
          if (!SpringRepositories.declares(file.info(), name)) {
            entities
                .get()
                .load(
                    ids.unique(Places.idOf(file.info()) + "." + name),
                    location,
                    QuerySource.INHERITED_METHOD,
                    entity.get());
          }
        }
        EntityQueries.inherited(entity.get())
            .forEach(
                (name, jpql) -> {
                  if (!SpringRepositories.declares(file.info(), name)) {
                    entities
                        .get()
                        .implied(
                            ids.unique(Places.idOf(file.info()) + "." + name),
                            location,
                            QuerySource.INHERITED_METHOD,
                            jpql,
                            List.of());
                  }
                });
        entities
            .get()
            .deletion(
                ids.unique(Places.idOf(file.info()) + ".delete"),
                location,
                QuerySource.INHERITED_METHOD,
                entity.get());
      } else {
        aggregates.readRepository(file, location);
      }
    }

    private void readMethods(ClassFile declaring, ClassFile owner) {
      declaring.info().methods().stream()
          .filter(method -> !method.isSynthetic())
          .sorted(
              Comparator.comparing(MethodInfo::name)
                  .thenComparing(method -> method.parameterTypes().toString()))
          .forEach(method -> readMethod(declaring, owner, method));
    }

    private void readType(ClassFile file) {
      ClassInfo type = file.info();
      for (AnnotationInstance annotation : type.declaredAnnotations()) {
        for (AnnotatedText text : texts.read(annotation)) {
          Place place = places.of(file, annotation, text);
          String ownPrefix = type.simpleName() + ".";
          String name =
              text.name().startsWith(ownPrefix)
                  ? text.name().substring(ownPrefix.length())
                  : text.name();
          String id = Places.idOf(type) + (name.isEmpty() ? "" : "#" + name);
          written.add(ids.unique(id), place, text, type);
        }
      }
    }

    /** A method, with the repository that has it, itself or from above. */
    private void readMethod(ClassFile file, ClassFile owner, MethodInfo method) {
      String name = Places.idOf(owner.info()) + "." + MethodSignatures.nameOf(method);
      Optional<String> id = Optional.empty();
      int main = 0;
      for (AnnotationInstance annotation : method.declaredAnnotations()) {
        List<AnnotatedText> found = texts.read(annotation);
        for (AnnotatedText part : found) {
          AnnotatedText text =
              JakartaData.whole(annotation, part, repositories.entityName(owner.info()));
          if (id.isEmpty()) {
            id = Optional.of(ids.unique(name));
          }
          String suffix = text.name();
          if (suffix.isEmpty()) {
            main++;
            suffix = main > 1 ? String.valueOf(main) : "";
          }
          Place place = places.of(file, method, annotation, text);
          written.add(
              suffix.isEmpty() ? id.get() : ids.unique(id.get() + "#" + suffix),
              place,
              text,
              owner.info(),
              suffix.isEmpty() && MethodSignatures.isPaged(method),
              suffix.isEmpty()
                  ? graphs.paths(method, repositories.entityClass(owner.info()))
                  : List.of());
          boolean counted = found.size() == 1 && MethodSignatures.isCounted(method);
          boolean readable = text.jpql() || text.problem().isEmpty();
          if (counted && readable && entities.isPresent()) {
            String countId = ids.unique(id.get() + "#count");
            JakartaData.counted(annotation, text)
                .ifPresentOrElse(
                    it -> written.add(countId, place, it, owner.info()),
                    () -> written.count(countId, place, text, owner.info()));
          }
        }
      }
      if (id.isEmpty() && entities.isPresent() && JakartaData.isAutomatic(method)) {
        Optional<String> type = repositories.entityClass(owner.info());
        entities
            .get()
            .automatic(() -> ids.unique(name), places.of(file, method), method, classes, type);
      }
      boolean named =
          !generated.has(owner.info())
              && (repositories.isDerivedQuery(method)
                  || repositories.isRedeclared(method, owner.info())
                  || aggregates.isInherited(method, owner));
      if (id.isEmpty() && named && !isNamed(method, owner)) {
        readName(name, places.of(file, method), owner, method);
      }
    }

    /** True where the entity has a named query for the method, which goes before its name. */
    private boolean isNamed(MethodInfo method, ClassFile owner) {
      return repositories
          .entityClass(owner.info())
          .flatMap(it -> classes.find(DotName.createSimple(it)))
          .filter(entity -> texts.namesQuery(entity, method.name(), named))
          .isPresent();
    }

    /** A method whose name is its query. */
    private void readName(
        String name, SourceLocation location, ClassFile owner, MethodInfo method) {
      String id = ids.unique(name);
      if (entities.isEmpty()) {
        unanalysed.add(
            new UnanalysedQuery(id, location, "derived query methods are not analysed yet"));
        return;
      }
      Optional<String> type = repositories.entityClass(owner.info());
      Optional<Entity> entity = type.flatMap(entities.get()::entity);
      if (entity.isEmpty() && aggregates.read(id, location, owner, method)) {
        return;
      }
      if (entity.isEmpty()) {
        unanalysed.add(
            new UnanalysedQuery(
                id,
                location,
                type.map(it -> it + " is no entity with a mapping")
                    .orElse("the class of the repository's entities is not known")));
        return;
      }
      if (repositories.hasCrudMethods(owner.info())
          && entities.get().redeclared(id, location, method, signatures, entity.get())) {
        return;
      }
      entities
          .get()
          .named(
              id,
              MethodSignatures.countId(id, method),
              location,
              signatures.of(method, entity.get()),
              entity.get());
    }
  }
}
