package dev.colonnade.architecture;

import static com.tngtech.archunit.base.DescribedPredicate.describe;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.ProductionCaution;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Which package may know which, and why. */
class ArchitectureTest {
  private static final String ROOT = "dev.colonnade";

  private static final JavaClasses PRODUCTION =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages(ROOT);

  /** The packages that hold values and judgements; each may know those before it. */
  private static final List<String> MODEL =
      List.of(
          "location",
          "predicate",
          "schema",
          "query",
          "statistics",
          "access",
          "design",
          "finding",
          "rule",
          "rules");

  /** What each package may know of ours. */
  private static final Map<String, Set<String>> MAY_KNOW = mayKnow();

  private static Map<String, Set<String>> mayKnow() {
    Map<String, Set<String>> allowed = new LinkedHashMap<>();
    allowed.put("dialect", Set.of());
    for (int i = 0; i < MODEL.size(); i++) {
      Set<String> before = new TreeSet<>(MODEL.subList(0, i));
      if (i >= MODEL.indexOf("statistics")) {
        before.add("dialect");
      }
      allowed.put(MODEL.get(i), before);
    }
    Set<String> facts = Set.of("location", "predicate", "schema", "query");
    allowed.put("sql", facts);
    allowed.put("schema.change", with(facts, "dialect"));
    allowed.put("schema.sql", with(facts, "sql", "schema.change", "dialect"));
    allowed.put("schema.liquibase", with(facts, "sql", "schema.change", "schema.sql", "dialect"));
    allowed.put("query.sql", with(facts, "sql", "dialect"));
    allowed.put("classfile", Set.of("location"));
    allowed.put("mapping", Set.of("location", "predicate", "schema"));
    allowed.put(
        "mapping.source", Set.of("location", "predicate", "schema", "classfile", "mapping"));
    allowed.put("mapping.xml", Set.of("location", "classfile"));
    allowed.put("query.jpql", Set.of("location", "predicate", "dialect", "mapping"));
    allowed.put("query.derived", Set.of("location", "predicate", "mapping", "query.jpql"));
    allowed.put("query.mapper", Set.of("location", "query"));
    allowed.put(
        "query.source",
        Set.of(
            "query.mapper",
            "location",
            "predicate",
            "query",
            "classfile",
            "mapping",
            "mapping.xml",
            "query.jpql",
            "query.derived"));
    allowed.put("statistics.yaml", with(facts, "statistics"));
    allowed.put("report", with(facts, "dialect", "statistics", "access", "design", "finding"));
    allowed.put("analysis", new TreeSet<>(allowed.keySet()));
    allowed.put("measure", new TreeSet<>(allowed.keySet()));
    return allowed;
  }

  private static Set<String> with(Collection<String> some, String... more) {
    Set<String> all = new TreeSet<>(some);
    all.addAll(List.of(more));
    return all;
  }

  private static String[] packages(Collection<String> names) {
    return names.stream().map(name -> ROOT + "." + name).toArray(String[]::new);
  }

  @Test
  void every_package_has_its_place() {
    Set<String> found =
        PRODUCTION.stream()
            .map(JavaClass::getPackageName)
            .filter(name -> !name.equals(ROOT))
            .map(name -> name.substring(ROOT.length() + 1))
            .collect(Collectors.toCollection(TreeSet::new));
    assertThat(found).isSubsetOf(MAY_KNOW.keySet()).contains("access", "rules", "report");
  }

  @TestFactory
  Stream<DynamicTest> packages_know_only_what_lies_before_them() {
    return MAY_KNOW.entrySet().stream()
        .map(
            entry ->
                dynamicTest(
                    entry.getKey(), () -> assertKnowsOnly(entry.getKey(), entry.getValue())));
  }

  private static void assertKnowsOnly(String name, Set<String> allowed) {
    List<String> known = new ArrayList<>(allowed);
    known.add(name);
    classes()
        .that()
        .resideInAPackage(ROOT + "." + name)
        .should()
        .onlyDependOnClassesThat(
            describe(
                "lie outside of the project or in " + known,
                type ->
                    !type.getPackageName().startsWith(ROOT)
                        || List.of(packages(known)).contains(type.getPackageName())))
        .because("data flows one way: files, schema and queries, access paths, findings, reports")
        .allowEmptyShould(true)
        .check(PRODUCTION);
  }

  @Test
  void packages_form_no_cycle() {
    slices()
        .matching(ROOT + ".(**)")
        .should()
        .beFreeOfCycles()
        .because("a cycle makes one package of two")
        .check(PRODUCTION);
  }

  @Test
  void the_model_knows_java_alone() {
    classes()
        .that()
        .resideInAnyPackage(packages(with(MODEL, "dialect", "mapping")))
        .should()
        .onlyDependOnClassesThat()
        .resideInAnyPackage(ROOT + "..", "java..")
        .because("facts and judgements outlive the libraries that read files")
        .check(PRODUCTION);
  }

  @TestFactory
  Stream<DynamicTest> each_library_has_one_door() {
    Map<String, List<String>> doors = new LinkedHashMap<>();
    doors.put("liquibase..", List.of("schema.liquibase"));
    doors.put("net.sf.jsqlparser..", List.of("sql", "schema.sql", "query.sql"));
    doors.put("org.jboss.jandex..", List.of("classfile", "mapping.source", "query.source"));
    doors.put("com.github.javaparser..", List.of("query.source"));
    doors.put("org.objectweb.asm..", List.of("classfile"));
    doors.put("org.antlr..", List.of("query.jpql"));
    doors.put("org.hibernate..", List.of("query.jpql"));
    doors.put("ognl..", List.of("query.mapper"));
    doors.put("com.fasterxml.jackson..", List.of("measure", "report", "statistics.yaml"));
    doors.put("org.yaml..", List.of("schema.liquibase", "statistics.yaml"));
    return doors.entrySet().stream()
        .map(
            door ->
                dynamicTest(
                    door.getKey(),
                    () ->
                        noClasses()
                            .that()
                            .resideOutsideOfPackages(packages(door.getValue()))
                            .should()
                            .dependOnClassesThat()
                            .resideInAPackage(door.getKey())
                            .because("a library that changes must not change more than its adapter")
                            .check(PRODUCTION)));
  }

  @Test
  void nothing_here_knows_maven() {
    noClasses()
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("org.apache.maven..", ROOT + ".plugin..")
        .because("the analysis runs wherever Java runs; Maven's types belong to the plugin")
        .check(PRODUCTION);
  }

  @Test
  void rules_see_the_world_through_their_context_only() {
    noClasses()
        .that()
        .resideInAnyPackage(packages(List.of("rule", "rules", "finding", "access", "design")))
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("java.io..", "java.nio.file..", "java.time..", "java.net..")
        .orShould()
        .dependOnClassesThat()
        .belongToAnyOf(System.class, Runtime.class, ProcessHandle.class, Thread.class)
        .because("the same facts must lead to the same findings, whatever the machine and the time")
        .check(PRODUCTION);
  }

  @Test
  void no_class_of_the_service_is_loaded() {
    noClasses()
        .that()
        .resideOutsideOfPackages(packages(List.of("schema.liquibase", "measure")))
        .should()
        .callMethod(Class.class, "forName", String.class)
        .orShould()
        .dependOnClassesThat()
        .areAssignableTo(ClassLoader.class)
        .orShould()
        .dependOnClassesThat()
        .belongToAnyOf(ServiceLoader.class, java.lang.invoke.MethodHandles.Lookup.class)
        .because(
            "class files are read as data; the changelog adapter is left out of this rule because"
                + " Liquibase finds its own parsers and changes through a class loader, which is"
                + " given none of the service's classes; measure takes the drivers and embedded"
                + " databases from a loader that holds nothing else")
        .check(PRODUCTION);
  }

  @Test
  void nothing_but_measure_opens_a_connection() {
    noClasses()
        .that()
        .resideOutsideOfPackage(ROOT + ".measure")
        .and()
        .doNotHaveFullyQualifiedName(ROOT + ".schema.liquibase.LiveUpdate")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("java.net.http..", "javax.net..", "javax.sql..")
        .orShould()
        .dependOnClassesThat()
        .haveNameMatching(
            "java\\.net\\.(.*Socket.*|.*Connection)|java\\.sql\\.(Driver.*|Connection|.*Statement)")
        .because("the check runs without network and without database; measure is asked to connect")
        .check(PRODUCTION);
    noClasses()
        .that()
        .resideOutsideOfPackage(ROOT + ".measure")
        .should()
        .dependOnClassesThat()
        .resideInAPackage(ROOT + ".measure")
        .orShould()
        .dependOnClassesThat()
        .haveFullyQualifiedName(ROOT + ".schema.liquibase.LiveUpdate")
        .because("no other goal may reach what connects")
        .check(PRODUCTION);
  }

  @Test
  void no_decision_hangs_on_a_vendors_name() {
    noClasses()
        .that()
        .resideInAnyPackage(packages(MODEL))
        .and()
        .doNotBelongToAnyOf(ProductionCaution.class)
        .should()
        .callMethod(Dialect.class, "shortName")
        .orShould()
        .dependOnClassesThat()
        .belongToAnyOf(Dialects.class)
        .because(
            "a database is a value with facts; whoever asks for its name guesses the facts. The"
                + " caution before a change in production is left out: it words each database's"
                + " own statement and decides nothing")
        .check(PRODUCTION);
  }
}
