package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.fail;

import dev.colonnade.query.Query;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.yard.Crane;
import dev.colonnade.query.jpql.yard.Crate;
import dev.colonnade.query.jpql.yard.Depot;
import dev.colonnade.query.jpql.yard.Gate;
import dev.colonnade.query.jpql.yard.Inspection;
import dev.colonnade.query.jpql.yard.Load;
import dev.colonnade.query.jpql.yard.Office;
import dev.colonnade.query.jpql.yard.Permit;
import dev.colonnade.query.jpql.yard.Truck;
import dev.colonnade.query.jpql.yard.Worker;
import dev.colonnade.query.source.FoundQueries;
import dev.colonnade.query.sql.StatementReading;
import java.net.URISyntaxException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.hibernate.Hibernate;
import org.hibernate.KeyType;
import org.hibernate.Session;
import org.hibernate.context.spi.CurrentTenantIdentifierResolver;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * What mappings of every kind send without a written query, against what Hibernate ORM 7.4 sends:
 * rows read by key with what is read at once, collections, changes of rows and of collections,
 * deletions and what goes with them. Each statement of ours must be among those that Hibernate
 * sends: the same tables, kinds of join, conditions and columns.
 */
final class YardStatementsTest {
  static final List<Class<?>> ENTITIES =
      List.of(
          Depot.class,
          Crane.class,
          Inspection.class,
          Truck.class,
          Gate.class,
          Gate.Roofed.class,
          Worker.class,
          Office.class,
          Permit.class,
          Crate.class,
          Crate.Cooled.class,
          Crate.Seal.class,
          Load.class,
          Load.Bulk.class,
          Load.Parcel.class,
          Load.Line.class,
          Load.Weighing.class,
          Load.Reading.class,
          Load.Memo.class);

  private static PortDatabase database;
  private static FoundQueries found;
  private static MappingStatements statements;

  /** Every session is tenant x's. */
  static final class OneTenant implements CurrentTenantIdentifierResolver<String> {
    @Override
    public String resolveCurrentTenantIdentifier() {
      return "x";
    }

    @Override
    public boolean validateExistingCurrentSessions() {
      return false;
    }
  }

  @BeforeAll
  static void open() throws SQLException, URISyntaxException {
    database =
        new PortDatabase(
            "yard", ENTITIES, Map.of("hibernate.tenant_identifier_resolver", new OneTenant()));
    found = database.queriesOfRepositories();
    statements = new MappingStatements(database.mapping().mapping(), "h2");
    database.execute(
        "insert into Depot(id, version, tenant, name, parent_id)"
            + " values (1, 0, 1, 'A', null), (2, 0, 1, 'B', 1), (3, 0, 1, 'C', null)",
        "insert into Truck(id, code, axles, depot_id) values (1, 't', 2, 1), (2, 'u', 2, 1)",
        "insert into Gate(id, width, height, depot_id, lane_depot, lane_no) values (1, 2, null, 1,"
            + " null, null), (2, 3, 4, null, 1, 0), (3, 4, null, null, 1, 1)",
        "insert into Depot_Gate(Depot_id, closedGates_id) values (1, 1), (1, 2)",
        "insert into Worker(id, version, name) values (1, 0, 'w'), (2, 0, 'v')",
        "insert into worker_file(worker_id, remark) values (1, 'r')",
        "insert into depot_worker(depots_id, workers_id) values (1, 1), (1, 2)",
        "insert into Crane(id, tenant, working, maker_code, serial, lift, depot_id, reserve_id,"
            + " lender_id, driver_id, truck_code, gate_no)"
            + " values (1, 1, true, 'm', 's', 2, 1, 1, 1, 1, 't', 1),"
            + " (2, 1, true, 'm', 'r', 2, 3, null, null, null, null, null)",
        "insert into Inspection(id, version, crane_id) values (1, 0, 1), (2, 0, 2)",
        "insert into Office(depot_id, phone) values (1, 'p')",
        "insert into Permit(depot_id, permit_no, revoked, crane_id) values (1, 1, false, 1)",
        "insert into Crate(id, version, kind, label, gone, depot_id)"
            + " values (1, 0, 'Crate', 'l', false, 1), (2, 0, 'Crate$Cooled', 'c', false, 1)",
        "insert into Crate$Cooled(id, degrees) values (2, 3)",
        "insert into crate_mark(Crate_id, marks, deleted) values (1, 'm', false), (1, 'n', false)",
        "insert into Crate$Seal(id, number, crate_id) values (1, 'n', 1)",
        "insert into Crate_Worker(Crate_id, handlers_id, gone)"
            + " values (1, 1, false), (1, 2, false)",
        "insert into Load$Bulk(id, tons, truck_id) values (1, 1, 1)",
        "insert into Load_labels(Load_id, labels) values (1, 'x'), (1, 'y')",
        "insert into Load$Line(truck_id, number, text) values (1, 1, 'x')",
        "insert into Load$Weighing(id, season, kilos, line_truck_id, line_number)"
            + " values (1, 1, 1, 1, 1)",
        "insert into Load$Memo(id, tenant, text) values (1, 'x', 't')",
        "insert into Load$Reading(id, degrees) values (1, 1)",
        "insert into depot_tag(Depot_id, tag) values (1, 'a'), (1, 'b')",
        "insert into depot_remark(Depot_id, remarks) values (1, 'a'), (1, 'b')",
        "insert into depot_step(Depot_id, step_no, steps) values (1, 0, 'a'), (1, 1, 'b')",
        "insert into depot_price(Depot_id, kind, price) values (1, 'a', 1), (1, 'b', 2)",
        "insert into depot_shift(Depot_id, worker_id, hours) values (1, 1, 2), (1, 2, 3)",
        "insert into depot_fence(Depot_id, side, metres) values (1, 'n', 2), (1, 's', 2)");
  }

  @AfterAll
  static void close() throws SQLException {
    database.close();
  }

  @Test
  void every_mapping_is_read() {
    assertThat(database.mapping().problems()).isEmpty();
    assertThat(found.unanalysed()).isEmpty();
  }

  @Test
  void each_statement_can_be_prepared() {
    assertThat(found.queries()).hasSizeGreaterThan(90);
    found
        .queries()
        .forEach(
            text ->
                assertThatCode(() -> database.prepare(text.sql()))
                    .as(text.id() + ": " + text.sql())
                    .doesNotThrowAnyException());
  }

  private static <T> Consumer<Session> on(Class<T> type, Object id, Consumer<T> action) {
    return session -> action.accept(session.find(type, id));
  }

  private static Consumer<Session> depot(Consumer<Depot> action) {
    return on(Depot.class, 1L, action);
  }

  private static Consumer<Session> crate(Consumer<Crate> action) {
    return on(Crate.class, 1L, action);
  }

  private static Consumer<Session> removed(Class<?> type, Object id) {
    return session -> session.remove(session.find(type, id));
  }

  private static Load.Line.Key line() {
    Load.Line.Key key = new Load.Line.Key();
    key.truck = 1L;
    key.number = 1;
    return key;
  }

  private static Map<String, Consumer<Session>> actions() {
    Map<String, Consumer<Session>> all = new LinkedHashMap<>();
    loads(all);
    collections(all);
    changes(all);
    return all;
  }

  private static void loads(Map<String, Consumer<Session>> all) {
    for (Class<?> type : ENTITIES) {
      Object id =
          Gate.class.isAssignableFrom(type)
              ? (Object) 1
              : type == Permit.class
                  ? new Permit.Key(1L, 1)
                  : type == Load.Line.class ? line() : (Object) 1L;
      String name = type.getName().replaceAll(".*\\.", "").replace('$', '.');
      all.put(name + "#load", session -> session.find(type, id));
    }
    all.put(
        "Crane#natural-id",
        session -> session.find(Crane.class, Map.of("maker", "m", "serial", "s"), KeyType.NATURAL));
    Consumer<Session> queried =
        session -> session.createSelectionQuery("from Crane", Crane.class).getResultList();
    all.put("Crane.permit", queried);
    all.put("Crane.inspections", queried);
    all.put("Crane.truck", on(Crane.class, 1L, it -> Hibernate.initialize(it.truck)));
    all.put("Depot.office", session -> session.find(Depot.class, 1L));
  }

  private static void collections(Map<String, Consumer<Session>> all) {
    all.put("Depot.cranes", depot(it -> Hibernate.initialize(it.cranes)));
    all.put("Depot.trucks", depot(it -> Hibernate.initialize(it.trucks)));
    all.put("Depot.gates", depot(it -> Hibernate.initialize(it.gates)));
    all.put("Depot.lanes", depot(it -> Hibernate.initialize(it.lanes)));
    all.put("Depot.closedGates", depot(it -> Hibernate.initialize(it.closedGates)));
    all.put("Depot.workers", depot(it -> Hibernate.initialize(it.workers)));
    all.put("Depot.tags", depot(it -> Hibernate.initialize(it.tags)));
    all.put("Depot.remarks", depot(it -> Hibernate.initialize(it.remarks)));
    all.put("Depot.steps", depot(it -> Hibernate.initialize(it.steps)));
    all.put("Depot.prices", depot(it -> Hibernate.initialize(it.prices)));
    all.put("Depot.shifts", depot(it -> Hibernate.initialize(it.shifts)));
    all.put("Depot.fences", depot(it -> Hibernate.initialize(it.fences)));
    all.put("Worker.depots", on(Worker.class, 1L, it -> Hibernate.initialize(it.depots)));
    all.put("Crate.marks", crate(it -> Hibernate.initialize(it.marks)));
    all.put("Crate.seals", crate(it -> Hibernate.initialize(it.seals)));
    all.put("Crate.handlers", crate(it -> Hibernate.initialize(it.handlers)));
    all.put("Load.labels", on(Load.Bulk.class, 1L, it -> Hibernate.initialize(it.labels)));
    all.put(
        "Load.Line.weighings",
        on(Load.Line.class, line(), it -> Hibernate.initialize(it.weighings)));
    all.put("Depot.gates#clear", depot(it -> it.gates.clear()));
    all.put(
        "Depot.gates#add",
        session -> session.find(Depot.class, 1L).gates.add(session.find(Gate.class, 3)));
    all.put("Depot.lanes#clear", depot(it -> it.lanes.clear()));
    all.put("Depot.lanes#remove", depot(it -> it.lanes.remove(0)));
    all.put("Depot.lanes#add", depot(it -> it.lanes.remove(0)));
    all.put("Depot.closedGates#clear", depot(it -> it.closedGates.clear()));
    all.put(
        "Depot.closedGates#remove",
        depot(it -> it.closedGates.remove(it.closedGates.iterator().next())));
    all.put("Depot.workers#clear", depot(it -> it.workers.clear()));
    all.put("Depot.workers#remove", depot(it -> it.workers.remove(it.workers.iterator().next())));
    all.put("Depot.tags#clear", depot(it -> it.tags.clear()));
    all.put("Depot.tags#remove", depot(it -> it.tags.remove("a")));
    all.put("Depot.remarks#clear", depot(it -> it.remarks.remove(0)));
    all.put("Depot.steps#clear", depot(it -> it.steps.clear()));
    all.put("Depot.steps#remove", depot(it -> it.steps.remove(0)));
    all.put("Depot.steps#replace", depot(it -> it.steps.set(0, "z")));
    all.put("Depot.prices#clear", depot(it -> it.prices.clear()));
    all.put("Depot.prices#remove", depot(it -> it.prices.remove("a")));
    all.put("Depot.prices#replace", depot(it -> it.prices.put("a", 7)));
    all.put("Depot.shifts#clear", depot(it -> it.shifts.clear()));
    all.put(
        "Depot.shifts#remove", depot(it -> it.shifts.remove(it.shifts.keySet().iterator().next())));
    all.put("Depot.shifts#replace", depot(it -> it.shifts.replaceAll((worker, hours) -> 9)));
    all.put("Depot.fences#clear", depot(it -> it.fences.clear()));
    all.put("Crate.marks#clear", crate(it -> it.marks.clear()));
    all.put("Crate.marks#remove", crate(it -> it.marks.remove("m")));
    all.put("Crate.handlers#clear", crate(it -> it.handlers.clear()));
    all.put(
        "Crate.handlers#remove", crate(it -> it.handlers.remove(it.handlers.iterator().next())));
    all.put("Load.labels#clear", on(Load.Bulk.class, 1L, it -> it.labels.clear()));
    all.put("Load.labels#remove", on(Load.Bulk.class, 1L, it -> it.labels.remove("x")));
  }

  private static void changes(Map<String, Consumer<Session>> all) {
    all.put("Depot#update", depot(it -> it.name = "z"));
    all.put("Crane#update", on(Crane.class, 1L, it -> it.lift = 3));
    all.put("Inspection#update", on(Inspection.class, 1L, it -> it.result = "z"));
    all.put("Office#update", on(Office.class, 1L, it -> it.phone = "z"));
    all.put("Permit#update", on(Permit.class, new Permit.Key(1L, 1), it -> it.revoked = true));
    all.put("Crate#update", crate(it -> it.label = "z"));
    all.put("Crate.Cooled#update", on(Crate.Cooled.class, 2L, it -> it.degrees = 9));
    all.put("Crate.Seal#update", on(Crate.Seal.class, 1L, it -> it.number = "z"));
    all.put("Gate#update", on(Gate.class, 1, it -> it.width = 9));
    all.put("Load.Bulk#update", on(Load.Bulk.class, 1L, it -> it.material = "z"));
    all.put("Load.Line#update", on(Load.Line.class, line(), it -> it.text = "z"));
    all.put("Load.Weighing#update", on(Load.Weighing.class, 1L, it -> it.kilos = 9));
    all.put("Load.Memo#update", on(Load.Memo.class, 1L, it -> it.text = "z"));
    all.put("Worker#update", on(Worker.class, 1L, it -> it.name = "z"));
    Consumer<Session> crane = removed(Crane.class, 2L);
    all.put("Crane#delete", crane);
    all.put("Inspection#delete", crane);
    all.put("Crate.Seal#delete", crate(it -> it.seals.clear()));
  }

  @TestFactory
  Stream<DynamicTest> hibernate_sends_the_same() {
    return actions().entrySet().stream()
        .map(
            action ->
                DynamicTest.dynamicTest(
                    action.getKey(), () -> compare(action.getKey(), action.getValue())));
  }

  private static void compare(String id, Consumer<Session> action) {
    List<String> ours =
        found.queries().stream()
            .filter(it -> it.id().endsWith(".yard." + id))
            .map(QueryText::sql)
            .toList();
    assertThat(ours).as(id).isNotEmpty();
    List<String> sent = database.sentWhile(session -> {}, action);
    assertThat(shapes(sent))
        .as("%s%nours      %s%nHibernate %s", id, ours.get(0), sent)
        .contains(QueryShape.of(understood(ours.get(0))));
  }

  /** What is deleted with a row, and nothing else. */
  @TestFactory
  Stream<DynamicTest> rows_are_deleted_by_the_same_statements() {
    Map<Class<?>, Object> rows = new LinkedHashMap<>();
    rows.put(Inspection.class, 2L);
    rows.put(Truck.class, 2L);
    rows.put(Office.class, 1L);
    rows.put(Crate.class, 1L);
    rows.put(Crate.Seal.class, 1L);
    rows.put(Load.Bulk.class, 1L);
    rows.put(Load.Line.class, line());
    rows.put(Load.Memo.class, 1L);
    rows.put(Permit.class, new Permit.Key(1L, 1));
    rows.put(Load.Weighing.class, 1L);
    rows.put(Crane.class, 2L);
    return rows.entrySet().stream()
        .map(
            row ->
                DynamicTest.dynamicTest(
                    row.getKey().getSimpleName(), () -> deletes(row.getKey(), row.getValue())));
  }

  private static void deletes(Class<?> type, Object id) {
    List<String> sent =
        database.sentWhile(session -> {}, removed(type, id)).stream()
            .filter(it -> !it.startsWith("select"))
            .toList();
    List<String> ours = new ArrayList<>();
    var mapping = database.mapping().mapping();
    var root = mapping.ofClass(type.getName()).orElseThrow();
    for (var entity : statements.deletedWith(java.util.Set.of(root))) {
      Map<String, JpqlResult> all = statements.of(entity, true);
      all.forEach(
          (suffix, result) -> {
            boolean owned = entity.equals(root) || root.parent().isPresent();
            if (suffix.equals("#delete") || (suffix.endsWith("#clear") && owned)) {
              JpqlResult.Translated translated = (JpqlResult.Translated) result;
              ours.add(translated.sql());
              ours.addAll(translated.further());
            }
          });
    }
    assertThat(shapes(ours)).as("ours %s%nHibernate %s", ours, sent).containsAll(shapes(sent));
  }

  private static List<List<String>> shapes(List<String> statements) {
    return statements.stream()
        .filter(it -> !it.startsWith("insert") && !it.startsWith("merge"))
        .map(it -> QueryShape.of(understood(it)))
        .distinct()
        .toList();
  }

  private static Query understood(String sql) {
    StatementReading reading = database.read(HibernateComparisonTest.numbered(sql));
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    return fail(sql + ": " + reading);
  }
}
