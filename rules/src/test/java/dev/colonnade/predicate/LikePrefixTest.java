package dev.colonnade.predicate;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.predicate.Expression.Parameter;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.Like.Wildcards;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * ISO/IEC 9075-2, like predicate: {@code %} and {@code _} stand for others, an escape for itself.
 */
final class LikePrefixTest {
  private static final Parameter PARAMETER = new Parameter(":name");

  private static Literal text(String text) {
    return new Literal(text, LiteralKind.TEXT);
  }

  private static Optional<String> prefix(Expression pattern) {
    return new Like(ColumnRef.self("name"), pattern, Wildcards.LIKE, false, Optional.of('!'))
        .literalPrefix();
  }

  private static Call concatenated(String function, Expression... parts) {
    return new Call(function, List.of(parts), true);
  }

  @Test
  void literal_ends_at_its_first_wildcard() {
    assertThat(prefix(text("sea%"))).hasValue("sea");
    assertThat(prefix(text("s_a"))).hasValue("s");
    assertThat(prefix(text("!%sea%"))).hasValue("%sea");
    assertThat(prefix(text("%sea"))).hasValue("");
    assertThat(prefix(text("sea"))).hasValue("sea");
  }

  @Test
  void parts_that_begin_with_a_wildcard_have_no_head_whatever_the_parameter() {
    assertThat(prefix(concatenated("||", text("%"), PARAMETER))).hasValue("");
    assertThat(prefix(concatenated("||", concatenated("||", text("%"), PARAMETER), text("%"))))
        .hasValue("");
    assertThat(prefix(concatenated("concat", text("_x"), PARAMETER))).hasValue("");
  }

  @Test
  void parts_that_begin_otherwise_are_unknown() {
    assertThat(prefix(PARAMETER)).isEmpty();
    assertThat(prefix(concatenated("||", PARAMETER, text("%")))).isEmpty();
    assertThat(prefix(concatenated("||", text("sea"), PARAMETER))).isEmpty();
    assertThat(prefix(concatenated("||", text("!%"), PARAMETER))).isEmpty();
    assertThat(prefix(concatenated("lower", text("%")))).isEmpty();
  }
}
