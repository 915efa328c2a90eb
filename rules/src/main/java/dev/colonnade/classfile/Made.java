package dev.colonnade.classfile;

import java.util.List;

/** A value that code makes out of constants, as far as it is known without running anything. */
public sealed interface Made {
  /** A text. */
  record Text(String value) implements Made {}

  /**
   * A class literal.
   *
   * @param name binary name, or the keyword of a primitive type
   */
  record Literal(String name) implements Made {}

  /**
   * A new object.
   *
   * @param type binary name of its class
   * @param arguments what its constructor was given
   */
  record Instance(String type, List<Made> arguments) implements Made {
    /** Copies the list. */
    public Instance {
      arguments = List.copyOf(arguments);
    }
  }

  /**
   * What a method gave back.
   *
   * @param method its name
   * @param arguments what it was given, the receiver left out
   */
  record Given(String method, List<Made> arguments) implements Made {
    /** Copies the list. */
    public Given {
      arguments = List.copyOf(arguments);
    }
  }

  /** An array of objects. */
  record Elements(List<Made> elements) implements Made {
    /** Copies the list. */
    public Elements {
      elements = List.copyOf(elements);
    }
  }

  /** Anything else: a number, NULL, what a field holds. */
  record Other() implements Made {}
}
