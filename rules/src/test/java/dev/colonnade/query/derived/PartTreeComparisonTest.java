package dev.colonnade.query.derived;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.mapping.Mapping;
import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.mapping.source.MappingReader;
import dev.colonnade.query.jpql.port.Booking;
import dev.colonnade.query.jpql.port.Company;
import dev.colonnade.query.jpql.port.Pilot;
import dev.colonnade.query.jpql.port.Vessel;
import dev.colonnade.schema.Schema;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.data.domain.Sort;
import org.springframework.data.repository.query.parser.Part;
import org.springframework.data.repository.query.parser.PartTree;

/**
 * Names of methods as we take them apart, against {@code PartTree} of Spring Data Commons 4.1.2
 * itself: the same verb, distinct, limit, attributes, operators, letter case and order, and no
 * reading where Spring Data has none.
 */
final class PartTreeComparisonTest {
  private static final List<String> SUBJECTS =
      List.of(
          "find", "read", "get", "query", "search", "stream", "count", "exists", "delete",
          "remove");
  private static final List<String> MIDDLES =
      List.of(
          "",
          "",
          "All",
          "Distinct",
          "First",
          "Top",
          "First3",
          "Top10",
          "DistinctTop2",
          "FirstDistinct",
          "BookingsDistinct",
          "Firsthand",
          "TopFirst5",
          "AllOfThem",
          "Bookings");
  private static final List<String> ATTRIBUTES =
      List.of(
          "Reference",
          "reference",
          "Paid",
          "CargoTons",
          "Status",
          "Vessel",
          "VesselName",
          "Vessel_Name",
          "VesselOwnerName",
          "VesselOwner_Name",
          "Vessel_Owner_Seat_City",
          "VesselOwnerSeatCity",
          "BerthIdQuay",
          "Berth_Id_Quay",
          "PilotsName",
          "Notes",
          "InvoiceTotal",
          "Id",
          "Version",
          "VesselId",
          "Vessel_id",
          "VesselNicknames",
          "Colour",
          "VesselColour",
          "Vessel_Colour",
          "VesselName_",
          "_Reference",
          "REFERENCE");
  private static final List<String> OPERATORS = operators();

  private static Mapping mapping;

  @BeforeAll
  static void readMapping() throws URISyntaxException {
    Path classes =
        Path.of(Vessel.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    Path port = classes.resolve(Vessel.class.getPackageName().replace('.', '/'));
    mapping =
        new MappingReader(ClassFiles.read(classes, port), Schema.EMPTY)
            .read(NamingStrategy.JPA)
            .mapping();
  }

  private static List<String> operators() {
    List<String> words = new ArrayList<>(List.of("", "", "IgnoreCase", "ContainingIgnoringCase"));
    for (Part.Type type : Part.Type.values()) {
      words.addAll(type.getKeywords());
    }
    return words;
  }

  static Stream<String> names() {
    List<String> names = new ArrayList<>();
    for (String subject : SUBJECTS) {
      for (String middle : MIDDLES) {
        names.add(subject + middle + "ByReferenceAndPaidTrueOrderByArrivalDesc");
      }
    }
    for (String attribute : ATTRIBUTES) {
      names.add("findBy" + attribute);
      names.add("findByPaidTrueOrderBy" + attribute + "DescIdAsc");
    }
    for (String operator : OPERATORS) {
      names.add("findByReference" + operator);
      names.add("findByVesselOwnerName" + operator + "OrNotes" + operator);
      names.add("findByReference" + operator + "IgnoreCase");
      names.add("findBy" + operator);
    }
    return names.stream().distinct();
  }

  @ParameterizedTest
  @MethodSource("names")
  void keywords_and_paths(String name) {
    same(Booking.class, "Booking", name);
  }

  /** Names that other services use, by their form; the last ones cannot be read. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "findBy",
        "findAllBy",
        "findByOrderById",
        "findAllByOrderByArrivalAscReferenceDescId",
        "findFirstByOrderByArrivalDesc",
        "findByReferenceAndReferenceAndPaid",
        "findByReferenceOrPaidAndStatusOrId",
        "findByReferenceAllIgnoreCase",
        "findByReferenceAndPaidAllIgnoringCaseOrderByReference",
        "findByReferenceIgnoreCaseAndVesselNameAllIgnoreCase",
        "findDistinctTop20ByVessel_Owner_NameStartingWithOrderByVessel_NameAsc",
        "reference",
        "referenceAndPaid",
        "existsBy",
        "findTop99999999999ByPaid",
        "findByReferenceOrderByPaidOrderByArrival",
        "findByReferenceOrderBy",
        "findByReferenceOrderByDesc",
        "findByReferenceOrderByArrivalAndPaid",
        "findByAndPaid",
        "findByOrPaid",
        "findByPaidAnd",
        "findByPaidOr",
        "findBystander",
        "load",
        "deleteFirst5ByPaid",
        "countTop3ByPaid",
        "findByCheckedIn"
      })
  void whole_names(String name) {
    same(Booking.class, "Booking", name);
  }

  @Test
  void a_thousand_names_put_together_at_random() {
    long seed = 20_260_731L;
    Random random = new Random(seed);
    int understood = 0;
    for (int i = 0; i < 1_000; i++) {
      String name = randomName(random);
      understood += same(Booking.class, "Booking", name) ? 1 : 0;
    }
    assertThat(understood).as("names that stand for a query, seed " + seed).isGreaterThan(200);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "findBySeatCity",
        "findBySeat_Street",
        "findByBillingCityAndVesselsBookingsPilotsLicence",
        "findByClosedFalse",
        "findByVesselsName"
      })
  void embedded_values_and_collections(String name) {
    same(Company.class, "Company", name);
  }

  @ParameterizedTest
  @ValueSource(strings = {"findByLicence", "findByBookingsVesselOwnerSeatCityIn"})
  void other_tables(String name) {
    same(Pilot.class, "Pilot", name);
  }

  private static String randomName(Random random) {
    StringBuilder name = new StringBuilder(pick(SUBJECTS, random));
    name.append(pick(MIDDLES, random)).append("By");
    int conditions = random.nextInt(4);
    for (int i = 0; i < conditions; i++) {
      name.append(i == 0 ? "" : random.nextInt(3) == 0 ? "Or" : "And");
      name.append(pick(ATTRIBUTES.subList(0, random.nextInt(12) == 0 ? 28 : 22), random));
      name.append(pick(OPERATORS, random));
    }
    if (random.nextInt(8) == 0) {
      name.append("AllIgnoreCase");
    }
    int orders = random.nextInt(3);
    for (int i = 0; i < orders; i++) {
      name.append(i == 0 ? "OrderBy" : "").append(pick(ATTRIBUTES.subList(0, 22), random));
      name.append(List.of("Asc", "Desc", i == orders - 1 ? "" : "Asc").get(random.nextInt(3)));
    }
    return name.toString();
  }

  private static String pick(List<String> words, Random random) {
    return words.get(random.nextInt(words.size()));
  }

  /** Fails where the readings differ; true where there is one. */
  private static boolean same(Class<?> type, String entity, String name) {
    String theirs = theirs(type, name);
    assertThat(ours(entity, name)).as(name).isEqualTo(theirs);
    return !theirs.equals("none");
  }

  private static String theirs(Class<?> type, String name) {
    try {
      PartTree tree = new PartTree(name, type);
      String verb =
          tree.isCountProjection()
              ? "COUNT"
              : tree.isExistsProjection() ? "EXISTS" : tree.isDelete() ? "DELETE" : "FIND";
      List<String> alternatives = new ArrayList<>();
      for (PartTree.OrPart alternative : tree) {
        List<String> parts = new ArrayList<>();
        for (Part part : alternative) {
          parts.add(
              part.getProperty().toDotPath()
                  + " "
                  + part.getType().name()
                  + " "
                  + part.shouldIgnoreCase());
        }
        if (!parts.isEmpty()) {
          alternatives.add(parts.toString());
        }
      }
      String limit = tree.isLimiting() ? String.valueOf(tree.getResultLimit().max()) : "all";
      String order =
          tree.getSort().stream()
              .map(
                  it ->
                      it.getProperty() + (it.getDirection() == Sort.Direction.DESC ? " desc" : ""))
              .collect(Collectors.joining(", "));
      return String.join(
          " | ", verb, String.valueOf(tree.isDistinct()), limit, alternatives.toString(), order);
    } catch (RuntimeException e) {
      return "none";
    }
  }

  private static String ours(String entity, String name) {
    try {
      MethodName read = MethodName.read(name, mapping.entity(entity).orElseThrow(), mapping);
      String alternatives =
          read.alternatives().stream()
              .map(parts -> parts.stream().map(PartTreeComparisonTest::text).toList().toString())
              .toList()
              .toString();
      String limit = read.limit().isPresent() ? String.valueOf(read.limit().getAsInt()) : "all";
      String order =
          read.orders().stream()
              .map(it -> it.path().text() + (it.descending() ? " desc" : ""))
              .collect(Collectors.joining(", "));
      return String.join(
          " | ", read.verb().name(), String.valueOf(read.distinct()), limit, alternatives, order);
    } catch (UnknownNameException e) {
      return "none";
    }
  }

  private static String text(MethodName.Condition condition) {
    String operator =
        switch (condition.operator()) {
          case EQUAL -> "SIMPLE_PROPERTY";
          case NOT -> "NEGATING_SIMPLE_PROPERTY";
          default -> condition.operator().name();
        };
    String letters =
        switch (condition.letters()) {
          case KEPT -> "NEVER";
          case IGNORED -> "ALWAYS";
          case IGNORED_IN_TEXT -> "WHEN_POSSIBLE";
        };
    return condition.path().text() + " " + operator + " " + letters;
  }
}
