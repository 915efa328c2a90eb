package dev.colonnade.query.jpql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.QueryText;
import dev.colonnade.query.jpql.basin.Basin;
import dev.colonnade.query.jpql.basin.Duty;
import dev.colonnade.query.jpql.basin.DutyId;
import dev.colonnade.query.jpql.basin.DutyRepository;
import dev.colonnade.query.jpql.basin.Foreman;
import dev.colonnade.query.jpql.basin.Permit;
import dev.colonnade.query.jpql.basin.Pier;
import dev.colonnade.query.jpql.basin.Ship;
import dev.colonnade.query.jpql.basin.Slot;
import dev.colonnade.query.jpql.basin.SlotId;
import dev.colonnade.query.jpql.basin.SlotRepository;
import dev.colonnade.query.jpql.basin.Traffic;
import dev.colonnade.query.jpql.basin.TrafficRepository;
import dev.colonnade.query.jpql.basin.Visit;
import dev.colonnade.query.jpql.basin.VisitRepository;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import org.hibernate.engine.spi.SessionImplementor;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * The repositories of a third service, with what the others do not use; and what the mapping sends
 * when rows and collections are read by key.
 */
final class BasinComparisonTest extends ServiceComparison {
  private static final List<Class<?>> ENTITIES =
      List.of(
          Basin.class,
          Duty.class,
          Foreman.class,
          Permit.class,
          Pier.class,
          Ship.class,
          Ship.Barge.class,
          Ship.Dredger.class,
          Slot.class,
          Traffic.class,
          Visit.class);

  private static final List<Class<?>> REPOSITORIES =
      List.of(
          DutyRepository.class,
          SlotRepository.class,
          TrafficRepository.class,
          VisitRepository.class);

  /** Methods whose statements are not held against each other, each with the reason. */
  private static final Map<String, String> LEFT =
      Map.of(
          "VisitRepository.findBySlotKeeper", "Hibernate asks the keeper for its badge and fails",
          "VisitRepository.ofMaster",
              "Hibernate numbers the classes in a CASE, we look at the keys",
          "VisitRepository.findBySlotKeeperNameLikeOrderBySlotBasinCodeAscSlotNumberDesc",
              "Hibernate sorts by the joined slot's number, we by the visit's, which equals it; no"
                  + " index serves an order over two tables");

  BasinComparisonTest() {
    super(
        new Service(
            "basin",
            ENTITIES,
            REPOSITORIES,
            LEFT,
            Map.of(
                DutyId.class, new DutyId(),
                SlotId.class, new SlotId(1L, 1),
                UUID.class, new UUID(1, 2)),
            Map.of()));
  }

  @TestFactory
  Stream<DynamicTest> reads_rows_by_the_same_statements() {
    Map<Class<?>, Object> keys = new LinkedHashMap<>();
    ENTITIES.forEach(type -> keys.put(type, 1L));
    keys.put(Foreman.class, new UUID(1, 2));
    keys.put(Duty.class, new DutyId());
    keys.put(Slot.class, new SlotId(1L, 1));
    return keys.entrySet().stream()
        .map(
            key ->
                DynamicTest.dynamicTest(
                    key.getKey().getSimpleName(),
                    () ->
                        compare(
                            key.getKey().getName().replace('$', '.') + "#load",
                            database().sentBy(it -> it.find(key.getKey(), key.getValue())))));
  }

  @TestFactory
  Stream<DynamicTest> reads_collections_by_the_same_statements() {
    return Stream.of("slots", "crew", "fees", "deputies")
        .map(Basin.class.getName().concat(".")::concat)
        .map(role -> DynamicTest.dynamicTest(role, () -> compare(role, collection(role))));
  }

  private List<String> collection(String role) {
    return database()
        .sentBy(
            entities -> {
              SessionImplementor session = entities.unwrap(SessionImplementor.class);
              session
                  .getFactory()
                  .getMappingMetamodel()
                  .getCollectionDescriptor(role)
                  .initialize(1L, session);
            });
  }

  private void compare(String id, List<String> sent) {
    List<String> ours =
        found().queries().stream()
            .filter(query -> query.id().equals(id))
            .map(QueryText::sql)
            .toList();
    assertThat(comparison().shapes(ours))
        .as("ours      %s%nHibernate %s", ours, sent)
        .isEqualTo(comparison().shapes(sent));
  }
}
