package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.query.derived.DerivedQueries;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationValue;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;
import org.jboss.jandex.Type;

/**
 * Knows the repository interfaces of Spring Data's relational stores and of Jakarta Data by what
 * they extend.
 */
final class SpringRepositories {
  private static final List<String> BASE_PACKAGES =
      List.of(
          "org.springframework.data.repository.",
          "org.springframework.data.jpa.repository.",
          "org.springframework.data.jdbc.repository.",
          "org.springframework.data.r2dbc.repository.",
          "io.micronaut.data.repository.",
          "jakarta.data.repository.");
  private static final DotName DEFINITION =
      DotName.createSimple("org.springframework.data.repository.RepositoryDefinition");
  private static final DotName NO_BEAN =
      DotName.createSimple("org.springframework.data.repository.NoRepositoryBean");
  private static final Set<String> CRUD =
      Set.of(
          "org.springframework.data.repository.CrudRepository",
          "org.springframework.data.repository.ListCrudRepository",
          "org.springframework.data.jpa.repository.JpaRepository",
          "io.micronaut.data.repository.CrudRepository",
          "io.micronaut.data.repository.PageableRepository",
          "io.micronaut.data.repository.reactive.ReactorCrudRepository",
          "io.micronaut.data.repository.reactive.ReactiveStreamsCrudRepository",
          "io.micronaut.data.repository.async.AsyncCrudRepository",
          "io.micronaut.data.repository.kotlin.CoroutineCrudRepository",
          "jakarta.data.repository.BasicRepository",
          "jakarta.data.repository.CrudRepository",
          "org.springframework.data.repository.reactive.ReactiveCrudRepository",
          "org.springframework.data.repository.reactive.RxJava3CrudRepository",
          "org.springframework.data.repository.reactive.RxJava2CrudRepository",
          "org.springframework.data.repository.kotlin.CoroutineCrudRepository",
          "org.springframework.data.r2dbc.repository.R2dbcRepository");

  /** What interfaces of repositories without waiting start with. */
  private static final List<String> REACTIVE =
      List.of(
          "org.springframework.data.repository.reactive.",
          "org.springframework.data.repository.kotlin.Coroutine",
          "org.springframework.data.r2dbc.");

  private static final Set<DotName> ENTITIES =
      Set.of(
          DotName.createSimple("jakarta.persistence.Entity"),
          DotName.createSimple("javax.persistence.Entity"));

  /** Methods whose bodies come with Spring Data's own repositories (their Javadoc), and Java's. */
  private static final Set<String> WITH_BODIES =
      Set.of(
          "save",
          "saveAll",
          "saveAndFlush",
          "saveAllAndFlush",
          "insert",
          "insertAll",
          "update",
          "updateAll",
          "flush",
          "delete",
          "deleteAll",
          "deleteAllById",
          "deleteAllInBatch",
          "deleteAllByIdInBatch",
          "deleteInBatch",
          "findOne",
          "getOne",
          "getById",
          "getReferenceById",
          "refresh",
          "equals",
          "hashCode",
          "toString");

  private static final Set<String> WITH_BODIES_IN_CRUD = Set.of("findAll", "count", "exists");
  private static final DotName PROCEDURE =
      DotName.createSimple("org.springframework.data.jpa.repository.query.Procedure");

  private final ClassFiles classes;
  private final DomainTypes domainTypes;

  SpringRepositories(ClassFiles classes) {
    this.classes = classes;
    this.domainTypes = new DomainTypes(classes, SpringRepositories::isBase);
  }

  /**
   * True for a method of a repository interface whose name is its query: each that nothing else
   * gives a body. A name without a subject may have one from a base class of the service, where it
   * is declared for repositories in common.
   */
  boolean isDerivedQuery(MethodInfo method) {
    if (!method.isAbstract()
        || method.hasDeclaredAnnotation(PROCEDURE)
        || JakartaData.isAutomatic(method)
        || !isRepository(method.declaringClass(), new HashSet<>())) {
      return false;
    }
    boolean fluent = method.name().equals("findBy") && method.parametersCount() > 0;
    if (WITH_BODIES.contains(method.name()) || fluent) {
      return false;
    }
    return DerivedQueries.isDerived(method.name())
        || (!WITH_BODIES_IN_CRUD.contains(method.name())
            && !JakartaData.isRepository(method.declaringClass())
            && !method.declaringClass().hasDeclaredAnnotation(NO_BEAN));
  }

  /** True where a repository declares again, for a graph or a lock, what it has from above. */
  boolean isRedeclared(MethodInfo method, ClassInfo repository) {
    return method.isAbstract()
        && WITH_BODIES_IN_CRUD.contains(method.name())
        && method.parameterTypes().stream().allMatch(MethodSignatures::isPageOrOrder)
        && isConcrete(repository)
        && hasCrudMethods(repository);
  }

  private boolean isRepository(ClassInfo type, Set<DotName> seen) {
    if (!type.isInterface() || !seen.add(type.name())) {
      return false;
    }
    return type.hasDeclaredAnnotation(DEFINITION)
        || JakartaData.isRepository(type)
        || type.interfaceNames().stream()
            .anyMatch(
                parent ->
                    isBase(parent)
                        || classes
                            .lookUp(parent)
                            .filter(it -> isRepository(it.info(), seen))
                            .isPresent());
  }

  private static boolean isBase(DotName name) {
    return BASE_PACKAGES.stream().anyMatch(name.toString()::startsWith);
  }

  /**
   * What Spring Data puts in place of {@code #{#entityName}}: the name given to {@code @Entity},
   * else the simple name of the entity's class; never the name given to {@code @Table} (Spring Data
   * JPA reference, "Using Value Expressions").
   */
  Optional<String> entityName(ClassInfo repository) {
    return entityClass(repository)
        .flatMap(type -> classes.find(DotName.createSimple(type)))
        .map(SpringRepositories::entityNameOf);
  }

  private static String entityNameOf(ClassInfo entity) {
    for (DotName annotation : ENTITIES) {
      AnnotationInstance instance = entity.declaredAnnotation(annotation);
      AnnotationValue name = instance == null ? null : instance.value("name");
      if (name != null && !name.asString().isEmpty()) {
        return name.asString();
      }
    }
    return entity.simpleName();
  }

  /** The class of the repository's entities; empty where it is a type variable. */
  Optional<String> entityClass(ClassInfo repository) {
    return domainTypes
        .of(repository)
        .filter(type -> type.kind() == Type.Kind.CLASS)
        .map(type -> type.name().toString())
        .or(
            () ->
                JakartaData.isRepository(repository)
                    ? new JakartaData(classes).primaryEntity(repository)
                    : Optional.empty());
  }

  /** True for an interface that serves entities of one class, and is a repository itself. */
  boolean isConcrete(ClassInfo type) {
    return !type.hasDeclaredAnnotation(NO_BEAN)
        && isRepository(type, new HashSet<>())
        && entityClass(type).isPresent();
  }

  /**
   * The interfaces above a repository that serve entities of any class: the service's own and those
   * that it has from modules beside it.
   */
  List<ClassInfo> genericBases(ClassInfo repository) {
    List<ClassInfo> result = new ArrayList<>();
    addGenericBases(repository, result, new HashSet<>());
    return result;
  }

  private void addGenericBases(ClassInfo type, List<ClassInfo> bases, Set<DotName> seen) {
    for (DotName parent : type.interfaceNames()) {
      ClassInfo known =
          isBase(parent) ? null : classes.lookUp(parent).map(ClassFile::info).orElse(null);
      if (known != null && seen.add(parent)) {
        if (!isConcrete(known)) {
          bases.add(known);
        }
        addGenericBases(known, bases, seen);
      }
    }
  }

  /**
   * True where the repository declares a method in place of the inherited one of that name, which
   * is given nothing or an identifier, one or several: an overload with other parameters stands
   * beside it.
   */
  static boolean declares(ClassInfo repository, String inherited) {
    int values = Set.of("findAll", "count", "deleteAll").contains(inherited) ? 0 : 1;
    return repository.methods().stream()
        .filter(
            method -> !method.isSynthetic() && MethodSignatures.nameOf(method).equals(inherited))
        .anyMatch(
            method ->
                MethodSignatures.given(method).size() == values
                    && MethodSignatures.given(method).stream()
                        .noneMatch(MethodSignatures::isPageOrOrder));
  }

  /** True where the repository inherits the methods that read by identifier. */
  boolean hasCrudMethods(ClassInfo repository) {
    return extendsAny(repository, CRUD::contains, new HashSet<>());
  }

  /** True where the repository's results come later. */
  private boolean isReactive(ClassInfo repository) {
    return extendsAny(
        repository, name -> REACTIVE.stream().anyMatch(name::startsWith), new HashSet<>());
  }

  /** The classes that repositories are for, true for those with a reactive one. */
  Map<String, Boolean> domainTypes() {
    Map<String, Boolean> result = new TreeMap<>();
    for (ClassFile file : classes.all()) {
      if (isConcrete(file.info())) {
        entityClass(file.info())
            .ifPresent(it -> result.merge(it, isReactive(file.info()), Boolean::logicalOr));
      }
    }
    return result;
  }

  private boolean extendsAny(ClassInfo type, Predicate<String> names, Set<DotName> seen) {
    for (DotName parent : type.interfaceNames()) {
      if (names.test(parent.toString())) {
        return true;
      }
      if (seen.add(parent)
          && classes.lookUp(parent).filter(it -> extendsAny(it.info(), names, seen)).isPresent()) {
        return true;
      }
    }
    return false;
  }
}
