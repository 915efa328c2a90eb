package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.jetty.BerthRepository;
import dev.colonnade.query.jpql.jetty.Booking;
import dev.colonnade.query.jpql.jetty.BookingRepository;
import dev.colonnade.query.jpql.jetty.Tug;
import dev.colonnade.query.jpql.jetty.TugRepository;
import dev.colonnade.query.jpql.jetty.Vessel;
import dev.colonnade.query.jpql.jetty.VesselRepository;
import java.lang.reflect.Method;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.BiConsumer;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.reactivestreams.Publisher;
import org.springframework.data.repository.CrudRepository;
import reactor.core.publisher.Flux;

/**
 * What is found of aggregates, against what Spring Data JDBC and R2DBC 4.1.2 send to H2 when the
 * same methods are called: the same statements over the same tables, with the same kinds of join,
 * conditions, order and limit.
 */
final class AggregateQueriesTest {
  private static final List<Class<?>> REPOSITORIES =
      List.of(
          BerthRepository.class,
          BookingRepository.class,
          TugRepository.class,
          VesselRepository.class);

  private static final String PACKAGE = VesselRepository.class.getPackageName() + ".";

  /**
   * Spring Data JDBC deletes the part of a part once more, by identifiers of the root, which are
   * not those that the part refers to.
   */
  private static final String WRONG_IDENTIFIERS = "\"RECEIPT_FOR\" IN (SELECT \"STAY\".\"ID\"";

  private static JettyDatabase database;
  private static JettyRepositories repositories;

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database = new JettyDatabase();
    repositories = new JettyRepositories();
  }

  @AfterAll
  static void close() throws SQLException {
    repositories.close();
    database.close();
  }

  @AfterEach
  void clear() throws SQLException {
    database.clear();
  }

  @Test
  void nothing_is_left_over() {
    assertThat(database.reading().problems()).isEmpty();
    assertThat(database.found().unanalysed()).isEmpty();
    assertThat(database.found().unreadable()).isEmpty();
    assertThat(database.found().queries()).hasSizeGreaterThan(120);
  }

  @Test
  void every_statement_prepares() {
    assertThat(database.found().queries())
        .allSatisfy(
            query ->
                assertThatCode(() -> database.prepare(query.sql()))
                    .as(query.sql())
                    .doesNotThrowAnyException());
  }

  @TestFactory
  Stream<DynamicTest> methods_send_the_same_statements() {
    return REPOSITORIES.stream()
        .flatMap(
            type ->
                Arrays.stream(type.getMethods())
                    .filter(method -> method.getDeclaringClass().getName().startsWith("dev."))
                    .filter(method -> !method.isBridge() && !method.getName().equals("save"))
                    .sorted(Comparator.comparing(Method::toString))
                    .map(
                        method ->
                            DynamicTest.dynamicTest(
                                type.getSimpleName() + "." + method.getName(),
                                () -> compare(type, method))));
  }

  private static void compare(Class<?> type, Method method) {
    List<String> theirs = repositories.sentBy(type, method);
    List<String> ours = new ArrayList<>(found(type, method.getName()));
    assertThat(ours).as(method.toString()).isNotEmpty();
    if (method.getName().equals("deleteById") && type == BookingRepository.class) {
      ours.addAll(deletionsOfParts("Booking"));
    }
    if (method.getName().equals("deleteByState")) {
      theirs = theirs.stream().filter(sql -> !sql.contains(WRONG_IDENTIFIERS)).toList();
    }
    assertSame(method.toString(), ours, theirs);
  }

  private static List<String> found(Class<?> type, String method) {
    String id = type.getName() + "." + method;
    return startingWith(id, it -> it.equals(id) || it.startsWith(id + "#"));
  }

  private static List<String> startingWith(String start, Predicate<String> chosen) {
    List<String> result =
        database.found().queries().stream()
            .filter(query -> chosen.test(query.id()))
            .map(QueryText::sql)
            .toList();
    assertThat(result).as(start).isNotEmpty();
    return result;
  }

  private static List<String> deletionsOfParts(String root) {
    String id = PACKAGE + root + ".";
    return startingWith(id, it -> it.startsWith(id) && it.endsWith("#delete"));
  }

  private static List<String> loadsOfParts(String root) {
    String id = PACKAGE + root + ".";
    return startingWith(id, it -> it.startsWith(id) && !it.contains("#"));
  }

  private static void assertSame(String what, List<String> ours, List<String> theirs) {
    assertThat(shapes(ours))
        .as("%s%nours   %s%ntheirs %s", what, ours, theirs)
        .isEqualTo(shapes(theirs));
  }

  private static List<String> shapes(List<String> statements) {
    return statements.stream()
        .filter(sql -> !sql.startsWith("INSERT"))
        .map(sql -> QueryShape.of(database.read(sql.toLowerCase(Locale.ROOT))).toString())
        .map(PortRepositories::comparable)
        .map(shape -> shape.replace("(?, ?)", "(?)"))
        .distinct()
        .sorted()
        .toList();
  }

  @TestFactory
  Stream<DynamicTest> inherited_methods_send_the_same_statements() {
    Map<String, BiConsumer<CrudRepository<?, Long>, Object>> calls = new LinkedHashMap<>();
    calls.put("findAll", (it, root) -> it.findAll());
    calls.put("count", (it, root) -> it.count());
    calls.put("findById", (it, root) -> it.findById(-1L));
    calls.put("findAllById", (it, root) -> it.findAllById(List.of(-1L)));
    calls.put("existsById", (it, root) -> it.existsById(-1L));
    calls.put("deleteAll", (it, root) -> it.deleteAll());
    calls.put("deleteAllById", (it, root) -> it.deleteAllById(List.of(-1L, -2L)));
    return Stream.of(BerthRepository.class, VesselRepository.class)
        .flatMap(
            type ->
                calls.entrySet().stream()
                    .map(
                        call ->
                            DynamicTest.dynamicTest(
                                type.getSimpleName() + "." + call.getKey(),
                                () ->
                                    assertSame(
                                        call.getKey(),
                                        withLocks(type, call.getKey()),
                                        repositories.sentWhile(
                                            () ->
                                                call.getValue()
                                                    .accept(
                                                        repositories.repository(type), null))))));
  }

  /** Roots with parts are locked before they are deleted: the rows that are then deleted. */
  private static List<String> withLocks(Class<?> type, String method) {
    List<String> result = new ArrayList<>(found(type, method));
    if (method.equals("deleteAll") && type == VesselRepository.class) {
      result.add("select id from vessel");
    } else if (method.equals("deleteAllById") && type == VesselRepository.class) {
      result.add("select id from vessel where id = ?");
    }
    return result;
  }

  @Test
  void parts_are_read_written_and_deleted_by_the_same_statements() {
    VesselRepository vessels = repositories.repository(VesselRepository.class);
    Vessel vessel = vessels.save(Vessel.laden());
    List<String> read = new ArrayList<>(found(VesselRepository.class, "findById"));
    read.addAll(loadsOfParts("Vessel"));
    assertSame(
        "findById",
        read,
        repositories.sentWhile(() -> assertThat(vessels.findById(vessel.number())).isPresent()));
    List<String> changed = new ArrayList<>(deletionsOfParts("Vessel"));
    changed.addAll(startingWith("update", (PACKAGE + "Vessel#update")::equals));
    assertSame("save", changed, repositories.sentWhile(() -> vessels.save(vessel)));
    List<String> deleted = new ArrayList<>(deletionsOfParts("Vessel"));
    deleted.addAll(found(VesselRepository.class, "delete"));
    deleted.add("select id from vessel where id = ?");
    assertSame("delete", deleted, repositories.sentWhile(() -> vessels.delete(vessel)));
  }

  @Test
  void a_part_that_is_one_row_is_read_along_with_its_owner() {
    BookingRepository bookings = repositories.repository(BookingRepository.class);
    Booking booking = bookings.save(Booking.laden());
    List<String> read = new ArrayList<>(found(BookingRepository.class, "findById"));
    read.addAll(loadsOfParts("Booking"));
    assertSame(
        "findById",
        read,
        repositories.sentWhile(() -> assertThat(bookings.findById(booking.number())).isPresent()));
    List<String> changed = new ArrayList<>(deletionsOfParts("Booking"));
    changed.addAll(startingWith("update", (PACKAGE + "Booking#update")::equals));
    assertSame("save", changed, repositories.sentWhile(() -> bookings.save(booking)));
  }

  @TestFactory
  Stream<DynamicTest> reactive_repositories_send_the_same_statements() {
    TugRepository tugs = repositories.repository(TugRepository.class);
    Map<String, Supplier<Publisher<?>>> calls = new LinkedHashMap<>();
    calls.put("findAll", tugs::findAll);
    calls.put("count", tugs::count);
    calls.put("findById", () -> tugs.findById(-1L));
    calls.put("findAllById", () -> tugs.findAllById(List.of(-1L)));
    calls.put("existsById", () -> tugs.existsById(-1L));
    calls.put("deleteById", () -> tugs.deleteById(-1L));
    calls.put("deleteAll", () -> tugs.deleteAll());
    calls.put("deleteAllById", () -> tugs.deleteAllById(List.of(-1L, -2L)));
    return calls.entrySet().stream()
        .map(
            call ->
                DynamicTest.dynamicTest(
                    call.getKey(),
                    () ->
                        assertSame(
                            call.getKey(),
                            found(TugRepository.class, call.getKey()),
                            repositories.sentWhile(
                                () -> Flux.from(call.getValue().get()).collectList().block()))));
  }

  @Test
  void a_reactive_repository_compares_the_version_when_it_updates() {
    TugRepository tugs = repositories.repository(TugRepository.class);
    Tug tug = tugs.save(Tug.named("Bjarne")).block();
    assertSame(
        "save",
        startingWith("update", (PACKAGE + "Tug#update")::equals),
        repositories.sentWhile(() -> tugs.save(tug).block()));
    assertSame(
        "delete",
        found(TugRepository.class, "delete"),
        repositories.sentWhile(() -> tugs.delete(tug).block()));
  }
}
