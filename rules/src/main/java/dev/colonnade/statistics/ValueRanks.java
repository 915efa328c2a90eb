package dev.colonnade.statistics;

import dev.colonnade.predicate.Expression;
import dev.colonnade.schema.TypeFamily;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Which share of a column's values lies below a given one.
 *
 * <p>With stated bounds of parts of equal size, or where every value is a stated common one: the
 * common values below it, and of the others the parts below it, the last one by its length
 * (PostgreSQL's {@code scalarineqsel} over {@code histogram_bounds}). Without bounds: by the length
 * from the smallest to the largest value (Selinger and others, SIGMOD 1979, table 1); where the
 * number of values is stated, they are taken to be points at equal distances, so that an end that
 * belongs to the range counts as one of them.
 */
final class ValueRanks {
  /** Shares in a file are rounded. */
  private static final double ALL = 0.995;

  private final ColumnStatistics stated;
  private final TypeFamily family;
  private final double filled;

  ValueRanks(ColumnFacts facts, Expression value) {
    this.stated = facts.stated(value);
    this.family = facts.family(value);
    this.filled = facts.filled(value);
  }

  /**
   * Share of the values that are not NULL and lie below; empty where nothing stated tells.
   *
   * @param inclusive true when the value itself counts as below
   */
  OptionalDouble below(String text, boolean inclusive) {
    OptionalDouble among = isEveryValueCommon() ? OptionalDouble.of(0) : amongBounds(text);
    if (among.isPresent() && filled > 0) {
      return OptionalDouble.of(withCommon(text, inclusive, among.getAsDouble()));
    }
    OptionalDouble place = ValueScale.place(text, family);
    OptionalDouble low = place(stated.minimum());
    OptionalDouble high = place(stated.maximum());
    if (place.isEmpty() || low.isEmpty() || high.isEmpty()) {
      return OptionalDouble.empty();
    }
    double width = high.getAsDouble() - low.getAsDouble();
    if (width <= 0) {
      return OptionalDouble.empty();
    }
    double share = (place.getAsDouble() - low.getAsDouble()) / width;
    double distinct = stated.distinct().orElse(0);
    if (distinct > 1 && share >= 0 && share <= 1) {
      return OptionalDouble.of((share * (distinct - 1) + (inclusive ? 1 : 0)) / distinct);
    }
    return OptionalDouble.of(clamp(share));
  }

  /** Share of the values that start with the text; empty where nothing stated tells. */
  OptionalDouble startingWith(String head) {
    if (family != TypeFamily.TEXT || head.isEmpty()) {
      return OptionalDouble.empty();
    }
    char last = head.charAt(head.length() - 1);
    if (last == Character.MAX_VALUE) {
      return OptionalDouble.empty();
    }
    String next = head.substring(0, head.length() - 1) + (char) (last + 1);
    OptionalDouble from = below(head, false);
    OptionalDouble to = below(next, false);
    if (from.isEmpty() || to.isEmpty()) {
      return OptionalDouble.empty();
    }
    double share = to.getAsDouble() - from.getAsDouble();
    boolean known = isEveryValueCommon() || stated.distinct().isEmpty();
    return OptionalDouble.of(
        known ? share : Math.max(share, 1 / Math.max(1, stated.distinct().getAsDouble())));
  }

  /** True when the common values are all that there are, but for a rounding of their shares. */
  private boolean isEveryValueCommon() {
    double listed = stated.commonValues().values().stream().mapToDouble(it -> it).sum();
    boolean counted =
        stated.distinct().isPresent()
            && stated.commonValues().size() >= stated.distinct().getAsDouble();
    return !stated.commonValues().isEmpty() && (counted || listed >= filled * ALL);
  }

  /** Share of the values between the bounds that lies below; empty without a place among them. */
  private OptionalDouble amongBounds(String text) {
    List<String> bounds = stated.bounds();
    int parts = bounds.size() - 1;
    if (parts < 1) {
      return OptionalDouble.empty();
    }
    int reached = 0;
    for (int i = 0; i < bounds.size(); i++) {
      OptionalDouble order = difference(text, bounds.get(i));
      if (order.isEmpty()) {
        return OptionalDouble.empty();
      }
      if (order.getAsDouble() < 0) {
        break;
      }
      reached = i + 1;
    }
    if (reached == 0 || reached == bounds.size()) {
      return OptionalDouble.of(reached == 0 ? 0 : 1);
    }
    double within = within(text, bounds.get(reached - 1), bounds.get(reached));
    return OptionalDouble.of((reached - 1 + within) / parts);
  }

  private double within(String text, String from, String to) {
    if (family == TypeFamily.TEXT) {
      int same = 0;
      while (same < from.length() && same < to.length() && from.charAt(same) == to.charAt(same)) {
        same++;
      }
      double low = fraction(from, same);
      double high = fraction(to, same);
      return high > low ? clamp((fraction(text, same) - low) / (high - low)) : 0.5;
    }
    double low = ValueScale.place(from, family).orElse(0);
    double high = ValueScale.place(to, family).orElse(0);
    double place = ValueScale.place(text, family).orElse(low);
    return high > low ? clamp((place - low) / (high - low)) : 0.5;
  }

  /** The characters behind a common head as a number from 0 to 1. */
  private static double fraction(String text, int start) {
    double value = 0;
    double scale = 1;
    for (int i = start; i < Math.min(text.length(), start + 6); i++) {
      scale /= 128;
      value += Math.min(127, text.charAt(i)) * scale;
    }
    return value;
  }

  private double withCommon(String text, boolean inclusive, double among) {
    double common = 0;
    double below = 0;
    for (Map.Entry<String, Double> entry : stated.commonValues().entrySet()) {
      common += entry.getValue();
      double order = difference(entry.getKey(), text).orElse(1);
      if (order < 0 || (inclusive && order == 0)) {
        below += entry.getValue();
      }
    }
    double others = Math.max(0, filled - common);
    return clamp((below + others * among) / filled);
  }

  private OptionalDouble difference(String left, String right) {
    if (family == TypeFamily.TEXT) {
      return OptionalDouble.of(left.compareTo(right));
    }
    OptionalDouble one = ValueScale.place(left, family);
    OptionalDouble other = ValueScale.place(right, family);
    return one.isEmpty() || other.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(one.getAsDouble() - other.getAsDouble());
  }

  private OptionalDouble place(Optional<String> text) {
    return text.isPresent() ? ValueScale.place(text.get(), family) : OptionalDouble.empty();
  }

  private static double clamp(double share) {
    return Math.max(0, Math.min(1, share));
  }
}
