package dev.colonnade.classfile;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * An annotation that stands in a mapping file instead of the class.
 *
 * @param type binary name of the annotation
 * @param values its attributes: {@code String}, {@code Boolean}, {@code Integer}, {@link Constant},
 *     {@link ClassName}, {@code AddedAnnotation}, or a list of these
 */
public record AddedAnnotation(String type, Map<String, Object> values) {
  /** Copies the values in their order. */
  public AddedAnnotation {
    values = Collections.unmodifiableMap(new LinkedHashMap<>(values));
  }

  /**
   * A constant of an enum.
   *
   * @param type binary name of the enum
   */
  public record Constant(String type, String name) {}

  /**
   * A class.
   *
   * @param name its binary name
   */
  public record ClassName(String name) {}
}
