package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Pattern;

/**
 * Finds the places where a service builds queries from objects, so that no text of them exists
 * before run time: the Criteria API, Querydsl, jOOQ, MyBatis-Plus, Spring Data's specifications,
 * examples, predicates and criteria (their Javadoc). They are counted, since an index that no text
 * needs may be needed by them; each class has one entry for each kind, at its first such place.
 */
public final class BuiltQueries {
  private static final Set<String> CRITERIA =
      Set.of("createQuery", "createTupleQuery", "createCriteriaUpdate", "createCriteriaDelete");
  private static final Set<String> CRITERIA_BUILDERS =
      Set.of(
          "jakarta.persistence.criteria.CriteriaBuilder",
          "javax.persistence.criteria.CriteriaBuilder",
          "org.hibernate.query.criteria.HibernateCriteriaBuilder");
  private static final Set<String> QUERYDSL =
      Set.of(
          "com.querydsl.jpa.JPQLQueryFactory",
          "com.querydsl.jpa.impl.JPAQueryFactory",
          "com.querydsl.jpa.hibernate.HibernateQueryFactory",
          "com.querydsl.sql.SQLQueryFactory");
  private static final Set<String> QUERYDSL_STARTS =
      Set.of("select", "selectDistinct", "selectFrom", "selectOne", "selectZero", "from", "update");
  private static final Set<String> EXECUTED =
      Set.of("findAll", "findOne", "findBy", "count", "exists", "delete", "update");

  /** What an executor of Spring Data is given as its first argument. */
  private static final Map<String, String> EXECUTORS =
      Map.of(
          "(Lorg/springframework/data/jpa/domain/Specification;", "a specification",
          "(Lorg/springframework/data/jpa/domain/PredicateSpecification;", "a specification",
          "(Lorg/springframework/data/jpa/domain/DeleteSpecification;", "a specification",
          "(Lorg/springframework/data/jpa/domain/UpdateSpecification;", "a specification",
          "(Lcom/querydsl/core/types/Predicate;", "Querydsl",
          "(Lorg/springframework/data/domain/Example;", "an example");

  /** The conditions that MyBatis-Plus makes SQL of. */
  private static final String WRAPPER = "Lcom/baomidou/mybatisplus/core/conditions/Wrapper;";

  private static final Pattern MAPPED =
      Pattern.compile("(select|delete|update|remove|list|page|get|count|exists)[A-Za-z]*");

  private final Path baseDirectory;
  private final List<Path> sourceDirectories;

  /**
   * A scanner.
   *
   * @param baseDirectory what file names are relative to
   * @param sourceDirectories where the sources are looked up, in this order
   */
  public BuiltQueries(Path baseDirectory, List<Path> sourceDirectories) {
    this.baseDirectory = baseDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
  }

  /** The places in all method bodies; a class file whose code cannot be read has none here. */
  public FoundQueries scan(ClassFiles classes) {
    SourceLocator locator = new SourceLocator(baseDirectory, sourceDirectories);
    List<NotUnderstood> entries = new ArrayList<>();
    int places = 0;
    for (ClassFile file : classes.all()) {
      Map<String, List<MethodCall>> calls = new TreeMap<>();
      for (MethodCall call : calls(classes, file)) {
        calls.computeIfAbsent(kind(call.callee()).orElseThrow(), it -> new ArrayList<>()).add(call);
      }
      for (Map.Entry<String, List<MethodCall>> kind : calls.entrySet()) {
        int number = kind.getValue().size();
        places += number;
        entries.add(
            new NotUnderstood(
                place(locator, file, kind.getValue().get(0)),
                (number == 1 ? "a query is" : number + " queries are")
                    + " built at run time with "
                    + kind.getKey()
                    + ": what "
                    + (number == 1 ? "it reads" : "they read")
                    + " is not known"));
      }
    }
    return new FoundQueries(List.of(), List.of(), entries, places);
  }

  private static List<MethodCall> calls(ClassFiles classes, ClassFile file) {
    try {
      return classes.calls(file, callee -> kind(callee).isPresent());
    } catch (IOException e) {
      return List.of(); // The scan for texts in method bodies lists it.
    }
  }

  private static Optional<String> kind(Callee callee) {
    if (CRITERIA_BUILDERS.contains(callee.owner()) && CRITERIA.contains(callee.name())) {
      return Optional.of("the Criteria API");
    }
    if (callee.owner().equals("org.hibernate.Session") && callee.name().equals("createCriteria")) {
      return Optional.of("the Criteria API");
    }
    boolean starts = QUERYDSL_STARTS.contains(callee.name()) || callee.name().equals("delete");
    if (QUERYDSL.contains(callee.owner()) && starts) {
      return Optional.of("Querydsl");
    }
    if (callee.owner().equals("org.jooq.DSLContext")
        && !callee.descriptor().startsWith("(Ljava/lang/String;")
        && (starts || callee.name().matches("(fetch|select|delete).*"))) {
      return Optional.of("jOOQ");
    }
    if (callee.descriptor().contains("Lorg/springframework/data/relational/core/query/Query;")) {
      return Optional.of("Spring Data's criteria");
    }
    if (callee.descriptor().contains(WRAPPER) && MAPPED.matcher(callee.name()).matches()) {
      return Optional.of("MyBatis-Plus");
    }
    if (!EXECUTED.contains(callee.name())) {
      return Optional.empty();
    }
    String first = callee.descriptor().substring(0, callee.descriptor().indexOf(';') + 1);
    return Optional.ofNullable(EXECUTORS.get(first));
  }

  private static SourceLocation place(SourceLocator locator, ClassFile file, MethodCall call) {
    Optional<String> source =
        call.sourceFile().flatMap(name -> locator.ofFile(call.caller(), name));
    return source.isPresent() && call.line().isPresent()
        ? SourceLocation.of(source.get(), call.line().getAsInt())
        : SourceLocation.of(source.orElse(file.file()));
  }
}
