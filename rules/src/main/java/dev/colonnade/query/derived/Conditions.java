package dev.colonnade.query.derived;

import dev.colonnade.mapping.Attribute;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;

/** Writes one condition of a method's name in JPQL. */
final class Conditions {
  private Conditions() {}

  /**
   * The condition; empty where JPQL has none.
   *
   * @param fold true where both sides are taken in capitals
   * @param parameter gives the next parameter
   * @param truth writes a truth value that the name itself says
   */
  static Optional<String> write(
      Operator operator,
      PathWriter paths,
      AttributePath path,
      boolean fold,
      Supplier<String> parameter,
      Function<Boolean, String> truth) {
    if (path.last() instanceof Attribute.ToMany) {
      Optional<String> condition = onCollection(operator, paths, path, parameter);
      if (condition.isPresent()) {
        return condition;
      }
    }
    UnaryOperator<String> folded = text -> fold ? "upper(" + text + ")" : text;
    String left = folded.apply(paths.value(path));
    Supplier<String> right = () -> folded.apply(parameter.get());
    return Optional.ofNullable(
        switch (operator) {
          case EQUAL -> left + " = " + right.get();
          case NOT -> left + " <> " + right.get();
          case IS_NULL -> left + " is null";
          case IS_NOT_NULL -> left + " is not null";
          case BETWEEN -> left + " between " + right.get() + " and " + right.get();
          case LESS_THAN, BEFORE -> left + " < " + right.get();
          case LESS_THAN_EQUAL -> left + " <= " + right.get();
          case GREATER_THAN, AFTER -> left + " > " + right.get();
          case GREATER_THAN_EQUAL -> left + " >= " + right.get();
          case LIKE -> left + " like " + right.get();
          case NOT_LIKE -> left + " not like " + right.get();
          case STARTING_WITH -> left + " like concat(" + right.get() + ", '%')";
          case ENDING_WITH -> left + " like concat('%', " + right.get() + ")";
          case CONTAINING -> left + " like concat('%', " + right.get() + ", '%')";
          case NOT_CONTAINING -> left + " not like concat('%', " + right.get() + ", '%')";
          case IN -> left + " in " + parameter.get();
          case NOT_IN -> left + " not in " + parameter.get();
          case TRUE -> left + " = " + truth.apply(true);
          case FALSE -> left + " = " + truth.apply(false);
          case IS_EMPTY, IS_NOT_EMPTY, NEAR, WITHIN, REGEX, EXISTS -> null;
        });
  }

  private static Optional<String> onCollection(
      Operator operator, PathWriter paths, AttributePath path, Supplier<String> parameter) {
    if (operator == Operator.IS_EMPTY) {
      return Optional.of(paths.collection(path) + " is empty");
    }
    if (operator == Operator.IS_NOT_EMPTY) {
      return Optional.of(paths.collection(path) + " is not empty");
    }
    if (operator == Operator.CONTAINING) {
      return Optional.of(parameter.get() + " member of " + paths.collection(path));
    }
    return operator == Operator.NOT_CONTAINING
        ? Optional.of(parameter.get() + " not member of " + paths.collection(path))
        : Optional.empty();
  }
}
