package dev.colonnade.query.mapper;

import java.util.Objects;
import java.util.Optional;

/**
 * What is supposed of something that the caller passes.
 *
 * @param present false where it is null, false or empty
 * @param constant its value where one is supposed; null for any other
 */
record State(boolean present, Object constant) {
  static final State ABSENT = new State(false, null);
  static final State PRESENT = new State(true, null);

  static State of(Object constant) {
    return new State(true, constant);
  }

  /** What holds when both hold; empty where they contradict each other. */
  Optional<State> and(State other) {
    if (present != other.present) {
      return Optional.empty();
    }
    if (constant == null) {
      return Optional.of(other);
    }
    return other.constant == null || Objects.equals(constant, other.constant)
        ? Optional.of(this)
        : Optional.empty();
  }
}
