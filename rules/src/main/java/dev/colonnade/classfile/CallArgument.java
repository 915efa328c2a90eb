package dev.colonnade.classfile;

import java.util.List;
import java.util.OptionalInt;

/**
 * What is known of an argument of a call without running anything.
 *
 * @param texts the texts that it can be, sorted: several where branches choose between whole texts,
 *     none where it is no text or put together at run time
 * @param cut whether it can be more texts than those
 * @param parameter which parameter of the calling method is handed on, counted from 0; empty where
 *     none is handed on as it came
 */
public record CallArgument(List<String> texts, boolean cut, OptionalInt parameter) {
  /** Nothing is known. */
  public static final CallArgument UNKNOWN =
      new CallArgument(List.of(), /* cut= */ false, OptionalInt.empty());

  /** Copies the list. */
  public CallArgument {
    texts = List.copyOf(texts);
  }
}
