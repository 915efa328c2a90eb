package dev.colonnade.schema;

import java.util.OptionalInt;

/**
 * The declared type of a column.
 *
 * @param text as declared, for reports: {@code varchar(30)}
 * @param family what kind of values it holds
 * @param length declared length or precision, if any
 * @param scale declared scale, if any
 */
public record ColumnType(String text, TypeFamily family, OptionalInt length, OptionalInt scale) {
  /** A type of which nothing is known. */
  public static final ColumnType UNKNOWN =
      new ColumnType("unknown", TypeFamily.OTHER, OptionalInt.empty(), OptionalInt.empty());

  /** A type without length. */
  public static ColumnType of(String text, TypeFamily family) {
    return new ColumnType(text, family, OptionalInt.empty(), OptionalInt.empty());
  }
}
