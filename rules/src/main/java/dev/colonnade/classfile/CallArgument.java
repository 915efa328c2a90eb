package dev.colonnade.classfile;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What is known of an argument of a call without running anything.
 *
 * @param texts the texts that it can be, sorted: several where branches choose between whole texts,
 *     none where it is no text or put together at run time; an order of Quarkus Panache is the text
 *     of its ORDER BY
 * @param cut whether it can be more texts than those
 * @param parameter which parameter of the calling method is handed on, counted from 0; empty where
 *     none is handed on as it came
 * @param elements how many elements an array has; empty for what is no array made on the spot
 * @param type binary name of a class: the one that a class literal names, else the one that the
 *     object is of as far as the compiler knew; empty where that is {@code Object}
 */
public record CallArgument(
    List<String> texts,
    boolean cut,
    OptionalInt parameter,
    OptionalInt elements,
    Optional<String> type) {
  /** Nothing is known. */
  public static final CallArgument UNKNOWN = texts(List.of(), /* cut= */ false);

  /** Copies the list. */
  public CallArgument {
    texts = List.copyOf(texts);
  }

  static CallArgument texts(List<String> texts, boolean cut) {
    return new CallArgument(texts, cut, OptionalInt.empty(), OptionalInt.empty(), Optional.empty());
  }

  static CallArgument parameter(int number) {
    return new CallArgument(
        List.of(), /* cut= */ false, OptionalInt.of(number), OptionalInt.empty(), Optional.empty());
  }

  static CallArgument array(int elements) {
    return new CallArgument(
        List.of(),
        /* cut= */ false,
        OptionalInt.empty(),
        OptionalInt.of(elements),
        Optional.empty());
  }

  static CallArgument of(String className) {
    return new CallArgument(
        List.of(),
        /* cut= */ false,
        OptionalInt.empty(),
        OptionalInt.empty(),
        Optional.of(className));
  }
}
