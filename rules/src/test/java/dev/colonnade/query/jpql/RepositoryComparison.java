package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.sql.StatementReading;
import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.BiPredicate;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.springframework.data.domain.ScrollPosition;
import org.springframework.data.jpa.repository.JpaRepository;

/**
 * The queries found in repositories beside what Spring Data sends when the same methods are called:
 * each prepares, and they read and compare the same.
 *
 * @param keys the keys of the row behind which a window is asked for
 * @param unlike an order that Hibernate adds for a method, by its name, which is not added to ours
 */
record RepositoryComparison(
    PortDatabase database,
    PortRepositories repositories,
    FoundQueries found,
    Map<String, Object> keys,
    Map<String, String> unlike) {

  /** One test for each method that the service declares. */
  Stream<DynamicTest> tests(List<Class<?>> types, BiPredicate<Class<?>, Method> left) {
    return types.stream()
        .flatMap(
            type ->
                Arrays.stream(type.getMethods())
                    .filter(method -> !method.getDeclaringClass().getName().startsWith("org."))
                    .filter(method -> !method.isDefault() && !method.isBridge())
                    .filter(method -> !left.test(type, method))
                    .sorted(Comparator.comparing(Method::getName))
                    .map(
                        method ->
                            DynamicTest.dynamicTest(
                                type.getSimpleName() + "." + method.getName(),
                                () -> compare(type, method))));
  }

  /** One test for each method that reads and that the repositories have from Spring Data. */
  Stream<DynamicTest> inherited(List<Class<?>> types) {
    return types.stream()
        .filter(JpaRepository.class::isAssignableFrom)
        .flatMap(
            type ->
                Stream.of(
                        inherited("findById", Object.class),
                        inherited("existsById", Object.class),
                        inherited("findAllById", Iterable.class),
                        inherited("findAll"),
                        inherited("count"))
                    .filter(method -> !declares(type, method.getName()))
                    .map(
                        method ->
                            DynamicTest.dynamicTest(
                                type.getSimpleName() + "." + method.getName(),
                                () -> compare(type, method))));
  }

  private static boolean declares(Class<?> type, String name) {
    return Arrays.stream(type.getDeclaredMethods()).anyMatch(it -> it.getName().equals(name));
  }

  private static Method inherited(String name, Class<?>... parameters) {
    try {
      return JpaRepository.class.getMethod(name, parameters);
    } catch (NoSuchMethodException e) {
      throw new IllegalArgumentException(name, e);
    }
  }

  private void compare(Class<?> type, Method method) {
    List<String> theirs = new ArrayList<>(repositories.sentBy(type, method));
    if (List.of(method.getParameterTypes()).contains(ScrollPosition.class)) {
      theirs.addAll(repositories.sentBehind(keys, type, method));
    }
    compare(type.getName() + "." + method.getName(), theirs, method);
  }

  /** The statements that were sent for a method beside those found for it. */
  void compare(String id, List<String> sent, Method method) {
    List<String> theirs = new ArrayList<>(sent);
    List<String> ours =
        found.queries().stream()
            .filter(query -> query.id().equals(id) || query.id().startsWith(id + "#"))
            .filter(query -> !query.id().contains("#delete"))
            .map(QueryText::sql)
            .toList();
    if (ours.isEmpty()) {
      // A named query of the entity, which is found there.
      ours =
          found.queries().stream()
              .filter(query -> query.id().endsWith("#" + method.getName()))
              .map(QueryText::sql)
              .toList();
    }
    assertThat(ours).as(id).isNotEmpty();
    for (String sql : ours) {
      assertThatCode(() -> database.prepare(sql)).as(sql).doesNotThrowAnyException();
    }
    if (theirs.stream().anyMatch(sql -> sql.startsWith("insert into HT_"))) {
      YardQueriesTest.changes_the_same(database, theirs, ours);
      return;
    }
    theirs.replaceAll(RepositoryComparison::flat);
    String order = unlike.get(method.getName());
    if (order != null) {
      assertThat(theirs).singleElement().asString().endsWith(order);
      theirs = theirs.stream().map(sql -> sql.replace(order, "")).toList();
    }
    assertThat(shapes(ours))
        .as("%s%nours      %s%nHibernate %s", id, ours, theirs)
        .isEqualTo(shapes(theirs));
  }

  private static final Pattern OF_ONE_CLASS =
      Pattern.compile("\\(select \\* from (\\w+) t where t\\.([^()]+)\\) (\\w+) on ");

  /** Hibernate joins rows of a subclass from a subquery; here the condition is one of the join. */
  private static String flat(String sql) {
    return OF_ONE_CLASS.matcher(sql).replaceAll("$1 $3 on $3.$2 and ");
  }

  List<String> shapes(List<String> statements) {
    return statements.stream()
        .map(sql -> PortRepositories.comparable(QueryShape.of(understood(sql)).toString()))
        .distinct()
        .sorted()
        .toList();
  }

  private Query understood(String sql) {
    StatementReading reading = database.read(HibernateComparisonTest.numbered(sql));
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    return fail(sql + ": " + reading);
  }
}
