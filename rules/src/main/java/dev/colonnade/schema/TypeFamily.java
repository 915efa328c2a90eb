package dev.colonnade.schema;

/** What kind of values a column holds. */
public enum TypeFamily {
  /** 16 bits or less. */
  SMALL_INTEGER,
  /** 32 bits. */
  INTEGER,
  /** 64 bits. */
  BIG_INTEGER,
  /** Exact numbers with a scale. */
  DECIMAL,
  /** Approximate numbers. */
  FLOAT,
  /** Character strings of any kind. */
  TEXT,
  /** Truth values. */
  BOOLEAN,
  /** Dates without time (on Oracle: with time). */
  DATE,
  /** Times of day. */
  TIME,
  /** Dates with time. */
  TIMESTAMP,
  /** Universally unique identifiers. */
  UUID,
  /** Byte strings. */
  BINARY,
  /** Large objects: text or bytes stored outside the row. */
  LARGE_OBJECT,
  /** JSON, XML, arrays, ranges, vectors and whatever else a plain B-tree serves badly. */
  OTHER;

  /** True for integers of any size. */
  public boolean isInteger() {
    return switch (this) {
      case SMALL_INTEGER, INTEGER, BIG_INTEGER -> true;
      case DECIMAL,
          FLOAT,
          TEXT,
          BOOLEAN,
          DATE,
          TIME,
          TIMESTAMP,
          UUID,
          BINARY,
          LARGE_OBJECT,
          OTHER ->
          false;
    };
  }

  /** True for numbers of any kind. */
  public boolean isNumeric() {
    return switch (this) {
      case SMALL_INTEGER, INTEGER, BIG_INTEGER, DECIMAL, FLOAT -> true;
      case TEXT, BOOLEAN, DATE, TIME, TIMESTAMP, UUID, BINARY, LARGE_OBJECT, OTHER -> false;
    };
  }
}
