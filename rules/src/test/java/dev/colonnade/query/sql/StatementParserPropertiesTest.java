package dev.colonnade.query.sql;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.query.Conjunct;
import dev.colonnade.query.QueryBlock;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What a change of writing must not change. Each case is named by its seed. */
class StatementParserPropertiesTest {
  private static final StatementFixture HARBOUR =
      StatementFixture.of(
          "postgresql",
          "vessel(id, name, length, flag)",
          "booking(id, vessel_id, status, price)",
          "invoice(id, booking_id, amount, paid)");
  private static final List<String> COLUMNS =
      List.of(
          "v.id",
          "v.name",
          "v.length",
          "v.flag",
          "b.id",
          "b.vessel_id",
          "b.status",
          "b.price",
          "i.id",
          "i.booking_id",
          "i.amount",
          "i.paid");
  private static final List<String> OPERATORS = List.of("=", "<>", "<", "<=", ">", ">=");
  private static final List<String> FLIPPED = List.of("=", "<>", ">", ">=", "<", "<=");
  private static final String FROM = " from vessel v, booking b, invoice i where ";

  private static List<Long> seeds() {
    return new Random(20240607).longs(200).boxed().toList();
  }

  private static <T> T any(Random random, List<T> values) {
    return values.get(random.nextInt(values.size()));
  }

  /** A comparison in both ways of writing. */
  private record Written(String straight, String flipped) {}

  private static Written comparison(Random random) {
    String left = any(random, COLUMNS);
    String right =
        random.nextInt(3) == 0 ? ":p" + random.nextInt(3) : String.valueOf(random.nextInt(100));
    int operator = random.nextInt(OPERATORS.size());
    return new Written(
        left + " " + OPERATORS.get(operator) + " " + right,
        right + " " + FLIPPED.get(operator) + " " + left);
  }

  private static Written term(Random random) {
    return switch (random.nextInt(6)) {
      case 0 -> {
        String column = any(random, COLUMNS);
        yield new Written(
            column + " between 3 and 7", "not (" + column + " < 3 or 7 < " + column + ")");
      }
      case 1 -> {
        String column = any(random, COLUMNS);
        yield new Written(column + " in (1, 2)", "(" + column + " = 1 or 2 = " + column + ")");
      }
      case 2 -> {
        String column = any(random, COLUMNS);
        yield new Written(column + " is not null", "not (" + column + " is null)");
      }
      default -> comparison(random);
    };
  }

  private static Set<Conjunct> conjuncts(String where) {
    QueryBlock block = HARBOUR.block("select 1" + FROM + where, 1);
    return new HashSet<>(block.conjuncts());
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void neither_order_nor_direction_of_conjuncts_matters(long seed) {
    Random random = new Random(seed);
    List<Written> terms = new ArrayList<>();
    int count = 1 + random.nextInt(6);
    for (int i = 0; i < count; i++) {
      terms.add(term(random));
    }
    List<String> straight = terms.stream().map(Written::straight).toList();
    List<String> other =
        new ArrayList<>(
            terms.stream().map(it -> random.nextBoolean() ? it.flipped() : it.straight()).toList());
    Collections.shuffle(other, random);
    assertThat(conjuncts(String.join(" and ", other)))
        .isEqualTo(conjuncts(String.join(" and ", straight)));
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void parentheses_and_double_negation_do_not_matter(long seed) {
    Random random = new Random(seed);
    String first = term(random).straight();
    String second = term(random).straight();
    String third = term(random).straight();
    Set<Conjunct> plain = conjuncts(first + " and " + second + " and " + third);
    assertThat(conjuncts("(" + first + " and (" + second + ")) and " + third)).isEqualTo(plain);
    assertThat(conjuncts(first + " and (" + second + " and " + third + ")")).isEqualTo(plain);
    assertThat(conjuncts("not (not (" + first + ") or not (" + second + " and " + third + "))"))
        .isEqualTo(plain);
  }

  /** ON of an inner join, WHERE and a comma join are one. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void inner_joins_can_be_written_in_any_way(long seed) {
    Random random = new Random(seed);
    String first = term(random).straight();
    String second = term(random).straight();
    QueryBlock comma = HARBOUR.block("select 1" + FROM + first + " and " + second, 1);
    QueryBlock joined =
        HARBOUR.block(
            "select 1 from vessel v cross join booking b join invoice i on "
                + first
                + " where "
                + second,
            1);
    assertThat(new HashSet<>(joined.conjuncts())).isEqualTo(new HashSet<>(comma.conjuncts()));
    assertThat(joined.from()).isEqualTo(comma.from());
  }

  /** A condition on the left side never reduces the join; a comparison on the right one does. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void a_comparison_with_the_right_side_makes_a_left_join_inner(long seed) {
    Random random = new Random(seed);
    String term = comparison(random).straight();
    QueryBlock block =
        HARBOUR.block(
            "select 1 from vessel v left join booking b on b.vessel_id = v.id"
                + " left join invoice i on i.booking_id = b.id where "
                + term,
            1);
    boolean bookingStays = term.startsWith("v.");
    boolean invoiceStays = !term.startsWith("i.");
    assertThat(block.from().get(0).nullSupplied()).isFalse();
    assertThat(block.from().get(1).nullSupplied()).isEqualTo(bookingStays);
    assertThat(block.from().get(2).nullSupplied()).isEqualTo(invoiceStays);
  }
}
