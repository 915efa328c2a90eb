package dev.colonnade.rules;

import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import java.util.Set;
import java.util.stream.Collectors;

/** How a condition on a term can be written as one on the column. Advice for people. */
final class Rewriting {
  private static final Set<String> PARTS_OF_TIME =
      Set.of(
          "date", "year", "month", "day", "trunc", "date_trunc", "extract", "to_char", "cast date");
  private static final Set<String> CASES = Set.of("lower", "upper", "lcase", "ucase");
  private static final Set<String> NULL_FILLS = Set.of("coalesce", "nvl", "ifnull", "isnull");
  private static final Set<String> ARITHMETIC = Set.of("+", "-", "*", "/");

  private Rewriting() {}

  static String of(Call call) {
    String columns =
        call.columns().stream().map(ColumnRef::render).collect(Collectors.joining(", "));
    if (PARTS_OF_TIME.contains(call.name())) {
      return "compare "
          + columns
          + " itself with a range, from the first moment wanted to before the first one not wanted";
    }
    if (CASES.contains(call.name())) {
      return "store " + columns + " in one case, or give it a collation that ignores case";
    }
    if (NULL_FILLS.contains(call.name())) {
      return "write the case of NULL apart: " + columns + " = value, or " + columns + " is null";
    }
    if (ARITHMETIC.contains(call.name())) {
      return "bring the arithmetic to the other side, so that " + columns + " stands alone";
    }
    if (call.name().startsWith("cast ")) {
      return "cast the value to the type of " + columns + " instead of the column";
    }
    return "compare " + columns + " itself, or store the value of " + call.render();
  }
}
