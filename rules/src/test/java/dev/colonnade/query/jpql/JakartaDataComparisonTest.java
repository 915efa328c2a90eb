package dev.colonnade.query.jpql;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.jpql.port.Base;
import dev.colonnade.query.jpql.port.BerthId;
import dev.colonnade.query.jpql.port.Crews;
import dev.colonnade.query.jpql.port.Stays;
import jakarta.data.Limit;
import jakarta.data.Order;
import jakarta.data.page.PageRequest;
import jakarta.persistence.Entity;
import jakarta.persistence.metamodel.Attribute;
import jakarta.persistence.metamodel.ManagedType;
import java.io.File;
import java.io.StringWriter;
import java.lang.reflect.Field;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.hibernate.StatelessSession;
import org.hibernate.processor.HibernateProcessor;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.core.ResolvableType;

/**
 * The queries found in repositories of Jakarta Data 1.0 against what the classes send that
 * Hibernate's own annotation processor, of the same version 7.4, writes for them.
 */
final class JakartaDataComparisonTest {
  private static final List<Class<?>> REPOSITORIES = List.of(Crews.class, Stays.class);

  /** Methods that are given an entity: what they send is held against Hibernate elsewhere. */
  private static final Set<String> WITH_ENTITY = Set.of("add", "drop", "remove");

  @TempDir private static Path generated;

  private static PortDatabase database;
  private static RepositoryComparison comparison;
  private static PortRepositories values;
  private static URLClassLoader loader;

  static boolean isCompared(String type) {
    return REPOSITORIES.stream().anyMatch(it -> it.getName().equals(type));
  }

  @BeforeAll
  static void open() throws Exception {
    database = new PortDatabase("jakartadata", PortDatabase.ENTITIES, Map.of());
    values =
        new PortRepositories(
            database,
            Map.of(
                BerthId.class, new BerthId("x", 1),
                Limit.class, Limit.of(5),
                Order.class, Order.by(),
                PageRequest.class, PageRequest.ofPage(3, 3, true)));
    comparison =
        new RepositoryComparison(
            database, values, database.queriesOfRepositories(), Map.of(), Map.of());
    List<String> libraries = new ArrayList<>();
    for (Class<?> type : List.of(Stays.class, Entity.class, Limit.class, StatelessSession.class)) {
      libraries.add(
          Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI()).toString());
    }
    List<Class<?>> types = new ArrayList<>(PortDatabase.ENTITIES);
    types.add(Base.class);
    types.addAll(REPOSITORIES);
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    StringWriter messages = new StringWriter();
    try (StandardJavaFileManager manager = compiler.getStandardFileManager(null, null, UTF_8)) {
      JavaCompiler.CompilationTask task =
          compiler.getTask(
              messages,
              manager,
              null,
              List.of(
                  "-d", generated.toString(), "-cp", String.join(File.pathSeparator, libraries)),
              types.stream().map(Class::getName).toList(),
              null);
      task.setProcessors(List.of(new HibernateProcessor()));
      assertThat(task.call()).as(messages.toString()).isTrue();
    }
    loader =
        new URLClassLoader(new URL[] {generated.toUri().toURL()}, Stays.class.getClassLoader());
    types.subList(0, types.size() - REPOSITORIES.size()).forEach(JakartaDataComparisonTest::fill);
  }

  /** The generated metamodel of a class gets its attributes, as Hibernate does where it sees it. */
  private static void fill(Class<?> type) {
    ManagedType<?> managed = database.metamodel().managedType(type);
    try {
      for (Field field : loader.loadClass(type.getName() + "_").getDeclaredFields()) {
        if (Attribute.class.isAssignableFrom(field.getType())) {
          field.set(null, managed.getAttribute(field.getName()));
        } else if (ManagedType.class.isAssignableFrom(field.getType())) {
          field.set(null, managed);
        }
      }
    } catch (ReflectiveOperationException e) {
      throw new LinkageError(e.getMessage(), e);
    }
  }

  @AfterAll
  static void close() throws Exception {
    loader.close();
    database.close();
  }

  @TestFactory
  Stream<DynamicTest> sends_the_same_statements() {
    return REPOSITORIES.stream()
        .flatMap(
            type ->
                Arrays.stream(type.getDeclaredMethods())
                    .filter(method -> !WITH_ENTITY.contains(method.getName()))
                    .map(
                        method ->
                            DynamicTest.dynamicTest(
                                type.getSimpleName() + "." + method.getName(),
                                () ->
                                    comparison.compare(
                                        type.getName() + "." + method.getName(),
                                        database.sentByStateless(
                                            session -> call(type, method, session)),
                                        method))));
  }

  private static void call(Class<?> type, Method method, StatelessSession session) {
    Object[] arguments =
        IntStream.range(0, method.getParameterCount())
            .mapToObj(i -> values.argument(ResolvableType.forMethodParameter(method, i), null))
            .toArray();
    try {
      Object repository =
          loader
              .loadClass(type.getName() + "_")
              .getConstructor(StatelessSession.class)
              .newInstance(session);
      Object result = method.invoke(repository, arguments);
      if (result instanceof Stream<?> rows) {
        assertThat(rows.count()).isZero();
      }
    } catch (InvocationTargetException e) {
      throw new IllegalStateException(method.toString(), e.getCause());
    } catch (ReflectiveOperationException e) {
      throw new LinkageError(e.getMessage(), e);
    }
  }

  @Test
  void rows_that_methods_are_given_are_deleted_by_their_keys() {
    assertThat(comparison.found().queries())
        .filteredOn(query -> query.id().matches(".*\\.(Stays\\.remove|Crews\\.drop)"))
        .extracting(query -> query.sql())
        .containsExactly(
            "delete from Pilot where id = ?",
            "delete from Booking where id = ? and change_count = ?");
    assertThat(comparison.found().queries()).noneMatch(query -> query.id().endsWith(".Crews.add"));
  }
}
