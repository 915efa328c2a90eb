package dev.colonnade.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.DecimalNode;
import com.fasterxml.jackson.databind.node.LongNode;
import com.fasterxml.jackson.databind.node.NullNode;
import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * Numbers as the reports write them: rounded half up to one decimal, without exponent, without
 * trailing zeros, with a point whatever the locale. An estimate deserves no more digits.
 */
final class Numbers {
  private static final int DECIMALS = 1;

  private Numbers() {}

  private static BigDecimal rounded(double value) {
    BigDecimal rounded =
        BigDecimal.valueOf(value).setScale(DECIMALS, RoundingMode.HALF_UP).stripTrailingZeros();
    return rounded.scale() < 0 ? rounded.setScale(0, RoundingMode.UNNECESSARY) : rounded;
  }

  /** The number as text; {@code unknown} for what is no finite number. */
  static String text(double value) {
    return Double.isFinite(value) ? rounded(value).toPlainString() : "unknown";
  }

  /** The number as JSON; {@code null} for what is no finite number. */
  static JsonNode json(double value) {
    if (!Double.isFinite(value)) {
      return NullNode.getInstance();
    }
    BigDecimal rounded = rounded(value);
    return rounded.scale() == 0 && rounded.precision() < 19
        ? LongNode.valueOf(rounded.longValueExact())
        : DecimalNode.valueOf(rounded);
  }

  /** A count with its noun: {@code 1 error}, {@code 2 errors}. */
  static String count(long number, String singular, String plural) {
    return number + " " + (number == 1 ? singular : plural);
  }
}
