package dev.colonnade.access;

import dev.colonnade.dialect.ListRules.SingleValue;
import dev.colonnade.predicate.EqualityLists;
import dev.colonnade.predicate.Predicate;
import java.util.Optional;

/** Lists of one value, which most databases take for an equality. */
final class SingleValues {
  private SingleValues() {}

  /** The equality that a condition is taken for; empty where it is none. */
  static Optional<Predicate> equality(Predicate condition, SingleValue rule) {
    return switch (rule) {
      case EQUALITY -> EqualityLists.single(condition, true);
      case EQUALITY_IF_WRITTEN_ONCE -> EqualityLists.single(condition, false);
      case LIST -> Optional.empty();
    };
  }
}
