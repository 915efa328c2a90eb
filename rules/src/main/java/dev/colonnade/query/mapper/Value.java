package dev.colonnade.query.mapper;

/** What an expression of a mapper stands for. */
sealed interface Value {
  /**
   * A constant.
   *
   * @param object a string, number or boolean; null stands for itself
   */
  record Known(Object object) implements Value {}

  /**
   * Something that the caller passes.
   *
   * @param path how the mapper reaches it: {@code query.name}, or the text of an expression of
   *     which nothing else is known
   */
  record Ref(String path) implements Value {}

  /** The number of elements of a collection that the caller passes. */
  record Size(String path) implements Value {}
}
