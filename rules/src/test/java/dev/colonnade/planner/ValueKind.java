package dev.colonnade.planner;

import dev.colonnade.schema.TypeFamily;
import java.time.LocalDate;
import java.util.Locale;

/** The kinds of values that generated columns hold. */
enum ValueKind {
  INTEGER("integer", TypeFamily.INTEGER),
  BIG("bigint", TypeFamily.BIG_INTEGER),
  DECIMAL("decimal(9,2)", TypeFamily.DECIMAL),
  TEXT("varchar(24)", TypeFamily.TEXT),
  DAY("date", TypeFamily.DATE),
  TRUTH("boolean", TypeFamily.BOOLEAN);

  private static final String[] WORDS = {
    "north", "south", "quay", "tide", "ebb", "nautic", "sound"
  };

  private final String type;
  private final TypeFamily family;

  ValueKind(String type, TypeFamily family) {
    this.type = type;
    this.family = family;
  }

  /** The type as declared; every database in question knows it. */
  String type() {
    return type;
  }

  TypeFamily family() {
    return family;
  }

  boolean isNumber() {
    return family.isNumeric();
  }

  /** The n-th value of the kind as plain text; for numbers and days in ascending order. */
  String text(int n) {
    return switch (this) {
      case INTEGER, BIG -> String.valueOf(n);
      case DECIMAL -> String.format(Locale.ROOT, "%d.%02d", n / 4, n % 4 * 25);
      case TEXT -> WORDS[n % WORDS.length] + String.format(Locale.ROOT, "%03d", n);
      case DAY -> LocalDate.of(2024, 1, 1).plusDays(n).toString();
      case TRUTH -> n % 2 == 0 ? "false" : "true";
    };
  }

  /** The beginning that several texts share. */
  static String head(int n) {
    return WORDS[n % WORDS.length].substring(0, 2);
  }
}
