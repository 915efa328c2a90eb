package dev.colonnade.statistics;

import dev.colonnade.schema.TypeFamily;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.OptionalDouble;

/** Places the texts of values on a line, so that one can tell how far along a range they lie. */
final class ValueScale {
  private ValueScale() {}

  /** The place of a value; nothing for values that are not on a line or cannot be read. */
  static OptionalDouble place(String text, TypeFamily family) {
    return switch (family) {
      case SMALL_INTEGER, INTEGER, BIG_INTEGER, DECIMAL, FLOAT -> number(text);
      case DATE, TIMESTAMP -> moment(text);
      case TIME -> time(text);
      case OTHER -> number(text);
      case TEXT, BOOLEAN, UUID, BINARY, LARGE_OBJECT -> OptionalDouble.empty();
    };
  }

  private static OptionalDouble number(String text) {
    try {
      double value = Double.parseDouble(text.strip());
      return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    } catch (NumberFormatException e) {
      return OptionalDouble.empty();
    }
  }

  private static OptionalDouble moment(String text) {
    String iso = text.strip().replace(' ', 'T');
    try {
      LocalDateTime value =
          iso.indexOf('T') < 0 ? LocalDate.parse(iso).atStartOfDay() : LocalDateTime.parse(iso);
      return OptionalDouble.of((double) value.toEpochSecond(ZoneOffset.UTC));
    } catch (DateTimeException e) {
      return OptionalDouble.empty();
    }
  }

  private static OptionalDouble time(String text) {
    try {
      return OptionalDouble.of(LocalTime.parse(text.strip()).toSecondOfDay());
    } catch (DateTimeException e) {
      return OptionalDouble.empty();
    }
  }
}
