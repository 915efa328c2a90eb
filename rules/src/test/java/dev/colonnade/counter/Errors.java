package dev.colonnade.counter;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/** Predicted against counted numbers. */
final class Errors {
  private final String what;
  private final double allowed;
  private final List<Pair> pairs = new ArrayList<>();

  /**
   * An empty list.
   *
   * @param allowed the factor within which a prediction counts as right
   */
  Errors(String what, double allowed) {
    this.what = what;
    this.allowed = allowed;
  }

  private record Pair(String query, double predicted, double counted) {
    /** How many times too many or too few, numbers below 1 counted as 1. */
    double factor() {
      double one = Math.max(1, predicted);
      double other = Math.max(1, counted);
      return Math.max(one / other, other / one);
    }
  }

  void add(String query, double predicted, double counted) {
    pairs.add(new Pair(query, predicted, counted));
  }

  int size() {
    return pairs.size();
  }

  /** Share of the predictions within the allowed factor. */
  double right() {
    return pairs.isEmpty()
        ? 0
        : pairs.stream().filter(it -> it.factor() <= allowed).count() / (double) pairs.size();
  }

  /** One row of a table in Markdown. */
  String line() {
    List<Pair> sorted = sorted();
    return String.format(
        Locale.ROOT,
        "| %s | %d | %.1f | %.2f | %.2f | %.1f |",
        what,
        pairs.size(),
        right() * 100,
        quantile(sorted, 0.5),
        quantile(sorted, 0.9),
        quantile(sorted, 1));
  }

  private static double quantile(List<Pair> sorted, double share) {
    int size = sorted.size();
    return size == 0 ? 0 : sorted.get((int) Math.min(size - 1, Math.ceil(share * size))).factor();
  }

  private List<Pair> sorted() {
    return pairs.stream().sorted(Comparator.comparingDouble(Pair::factor)).toList();
  }

  /** The worst predictions, for messages. */
  String worst(int number) {
    StringBuilder text = new StringBuilder(line()).append("\n");
    List<Pair> sorted = sorted();
    for (int i = sorted.size() - 1; i >= Math.max(0, sorted.size() - number); i--) {
      Pair pair = sorted.get(i);
      text.append(
          String.format(
              Locale.ROOT,
              "predicted %.1f, counted %.0f: %s%n",
              pair.predicted(),
              pair.counted(),
              pair.query()));
    }
    return text.toString();
  }
}
