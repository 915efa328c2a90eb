package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Dialects;
import dev.colonnade.finding.Finding;
import dev.colonnade.finding.Severity;
import dev.colonnade.rule.Rule;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * Whatever the schema, the queries and the database: advice that is taken removes its finding,
 * makes no query worse, and an index to be created makes the query cheaper. {@link RuleTester} sees
 * to it for each finding; here it is shown scenes drawn at random. The name of a failing test is
 * its seed.
 */
class AdviceTest {
  private static final int SCENES = Integer.getInteger("colonnade.advice.scenes", 40);
  private static final int FIRST = Integer.getInteger("colonnade.advice.seed", 0);
  private static final List<String> COLUMNS = List.of("a", "b", "c", "d", "e");

  private static final String MOORING =
      "create table mooring (id bigint not null, berth_id bigint not null, a integer not null,"
          + " made_fast date not null, constraint pk_mooring primary key (id),"
          + " constraint fk_mooring_berth foreign key (berth_id) references berth (id));";

  @TestFactory
  Stream<DynamicTest> advice_helps() {
    return Dialects.all().stream()
        .flatMap(
            dialect ->
                IntStream.range(FIRST, FIRST + SCENES)
                    .mapToObj(
                        seed ->
                            DynamicTest.dynamicTest(
                                dialect + " seed " + seed,
                                () -> check(scene(new Random(seed), dialect)))));
  }

  @TestFactory
  Stream<DynamicTest> every_rule_speaks_about_some_scene() {
    Set<String> heard = new TreeSet<>();
    for (int seed = 0; seed < 5 * SCENES; seed++) {
      RuleRegistry.check(scene(new Random(seed), Dialects.postgresql()).context())
          .forEach(finding -> heard.add(finding.ruleId()));
    }
    return RuleRegistry.metadata().stream()
        // One table, and a database that unites indexes: nothing to split, nothing wide.
        .filter(rule -> !Set.of("split-by-or", "wide-index").contains(rule.id()))
        .map(
            rule ->
                DynamicTest.dynamicTest(rule.id(), () -> assertThat(heard).contains(rule.id())));
  }

  private static void check(Scene scene) {
    List<Finding> all = new ArrayList<>();
    for (Rule rule : RuleRegistry.rules()) {
      all.addAll(new RuleTester(rule, scene).findings());
    }
    assertThat(all)
        .noneMatch(finding -> finding.restsOnAssumption() && finding.severity() == Severity.ERROR);
    assertThat(RuleRegistry.check(scene.context())).isEqualTo(all.stream().sorted().toList());
  }

  private static Scene scene(Random random, Dialect dialect) {
    Scene scene =
        Scene.EMPTY
            .on(dialect)
            .ddl(
                "create table berth (id bigint not null, a integer not null, b integer not null,"
                    + " c integer, d varchar(20) not null, e date not null, note varchar(200),"
                    + " constraint pk_berth primary key (id));");
    if (random.nextInt(10) == 0) {
      scene = scene.ddl("create index ix_code on berth (d);create index ix_code_too on berth (d);");
    }
    if (random.nextInt(3) > 0) {
      scene = scene.rows("berth", Math.pow(10, 2 + random.nextInt(5)));
      for (String column : COLUMNS) {
        if (random.nextBoolean()) {
          scene = scene.distinct("berth", column, Math.pow(10, random.nextInt(5)));
        }
      }
    }
    int indexes = random.nextInt(5);
    for (int i = 0; i < indexes; i++) {
      List<String> key = someOf(random, 1 + random.nextInt(3));
      key.replaceAll(column -> random.nextInt(5) == 0 ? column + " desc" : column);
      String unique = random.nextInt(8) == 0 ? "unique " : "";
      scene =
          scene.ddl(
              "create " + unique + "index ix_" + i + " on berth (" + String.join(", ", key) + ");");
    }
    if (random.nextInt(4) == 0) {
      scene = scene.ddl(MOORING);
      scene = random.nextBoolean() ? scene.queries("delete from berth where id = ?") : scene;
      scene =
          random.nextBoolean() ? scene.queries("select made_fast from mooring where a = ?") : scene;
    }
    int queries = 1 + random.nextInt(4);
    for (int i = 0; i < queries; i++) {
      scene = scene.queries(query(random));
    }
    return scene;
  }

  private static List<String> someOf(Random random, int count) {
    List<String> shuffled = new ArrayList<>(COLUMNS);
    Collections.shuffle(shuffled, random);
    return new ArrayList<>(shuffled.subList(0, count));
  }

  private static String query(Random random) {
    String select =
        switch (random.nextInt(5)) {
          case 0 -> "note";
          case 1 -> "count(*)";
          case 2 -> "sum(a)";
          case 3 -> "id";
          default -> String.join(", ", someOf(random, 2));
        };
    List<String> conditions =
        someOf(random, random.nextInt(4)).stream()
            .map(column -> condition(random, column))
            .toList();
    if (random.nextInt(6) == 0) {
      conditions = Stream.concat(conditions.stream(), Stream.of(choice(random))).toList();
    }
    String sql =
        "select "
            + select
            + " from berth"
            + (conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions));
    if (!select.contains("(") && random.nextInt(3) == 0) {
      sql += " order by " + someOf(random, 1).get(0) + (random.nextBoolean() ? " desc" : "");
      sql += random.nextBoolean() ? " fetch first 10 rows only" : "";
    }
    return sql;
  }

  /** A condition of the kinds that keep an index from being used. */
  private static String choice(Random random) {
    List<String> columns = someOf(random, 2);
    String one = columns.get(0);
    String other = columns.get(1);
    return switch (random.nextInt(6)) {
      case 0 -> "(? is null or " + one + " = ?)";
      case 1 -> one + " = coalesce(?, " + one + ")";
      case 2, 3 -> "(" + one + " = ? or " + other + " = ?)";
      case 4 -> "d = 5";
      default -> "a = 5.5";
    };
  }

  private static String condition(Random random, String column) {
    return switch (random.nextInt(7)) {
      case 0, 1, 2 -> column + " = ?";
      case 3 -> column + " > ?";
      case 4 -> column + " in (?, ?)";
      case 5 -> column.equals("d") ? "d like '%x'" : column + " between ? and ?";
      default -> column.equals("d") ? "lower(d) = ?" : column + " is not null";
    };
  }
}
