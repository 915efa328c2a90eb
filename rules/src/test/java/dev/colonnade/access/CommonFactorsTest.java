package dev.colonnade.access;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.dialect.OrRules;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.Conjunct;
import dev.colonnade.sql.ExpressionReader;
import dev.colonnade.sql.SqlParser;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** PostgreSQL source, prepqual.c, find_duplicate_ors, whose comment has these cases. */
class CommonFactorsTest {
  private static List<String> takenOut(String condition) {
    Predicate predicate =
        Conditions.normalize(
            ExpressionReader.ofTable()
                .predicate(new SqlParser("postgresql").expression(condition)));
    return CommonFactors.takenOut(
            List.of(new Conjunct(predicate, Set.of())), OrRules.of(Dialects.postgresql()))
        .stream()
        .map(it -> it.predicate().render())
        .toList();
  }

  @Test
  void takes_out_what_every_branch_holds() {
    assertThat(takenOut("(a = 1 and b = 2) or (c = 3 and a = 1)"))
        .containsExactly("a = 1", "(b = 2 or c = 3)");
    assertThat(takenOut("(a = 1 and b = 2 and c > 4) or (b = 2 and a = 1 and c < 3)"))
        .containsExactlyInAnyOrder("a = 1", "b = 2", "(c > 4 or c < 3)");
  }

  @Test
  void a_branch_that_holds_nothing_else_makes_the_others_moot() {
    assertThat(takenOut("a = 1 or (a = 1 and b = 2)")).containsExactly("a = 1");
  }

  @Test
  void leaves_an_or_without_common_parts() {
    assertThat(takenOut("(a = 1 and b = 2) or (a = 2 and b = 2 and c = 3) or d = 4")).hasSize(1);
    assertThat(takenOut("a = 1 or b = 2")).containsExactly("(a = 1 or b = 2)");
  }
}
