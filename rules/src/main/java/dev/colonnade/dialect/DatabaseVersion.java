package dev.colonnade.dialect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The version of a database, as its maker writes it: {@code 15}, {@code 15.4}, {@code 8.0.36},
 * {@code 19c}. Versions are compared number by number, and a number that is not stated counts as
 * the highest: {@code 8.0} is the newest of the 8.0 line.
 */
public final class DatabaseVersion implements Comparable<DatabaseVersion> {
  /** The newest version of any database, whatever its number. */
  public static final DatabaseVersion NEWEST = new DatabaseVersion(List.of(), "");

  private static final Pattern FORM = Pattern.compile("(\\d{1,4}(?:\\.\\d{1,6}){0,4})(c|g|i|ai)?");

  private final List<Integer> numbers;
  private final String text;

  private DatabaseVersion(List<Integer> numbers, String text) {
    this.numbers = List.copyOf(numbers);
    this.text = text;
  }

  /** Reads a version; empty where the text is none. */
  static Optional<DatabaseVersion> read(String text) {
    Matcher form = FORM.matcher(text.strip());
    if (!form.matches()) {
      return Optional.empty();
    }
    List<Integer> numbers = new ArrayList<>();
    for (String number : form.group(1).split("\\.", -1)) {
      numbers.add(Integer.valueOf(number));
    }
    return Optional.of(new DatabaseVersion(numbers, text.strip()));
  }

  /** The first of the numbers; empty for the newest version. */
  Optional<Integer> first() {
    return numbers.stream().findFirst();
  }

  /** True for a version with a letter behind its numbers, as Oracle writes it. */
  boolean hasLetter() {
    return !text.isEmpty() && Character.isLetter(text.charAt(text.length() - 1));
  }

  /** True when this version is the one of these numbers or a later one. */
  boolean from(Integer... since) {
    for (int i = 0; i < since.length; i++) {
      int mine = i < numbers.size() ? numbers.get(i) : Integer.MAX_VALUE;
      if (mine != since[i]) {
        return mine > since[i];
      }
    }
    return true;
  }

  /**
   * A fact that changed with a version.
   *
   * @param now the fact from then on
   * @param before the fact of earlier versions
   * @param since the numbers of the first version with the new fact
   */
  <T> Fact<T> choose(Fact<T> now, Fact<T> before, Integer... since) {
    return from(since) ? now : before;
  }

  @Override
  public int compareTo(DatabaseVersion other) {
    for (int i = 0; i < Math.max(numbers.size(), other.numbers.size()); i++) {
      int mine = i < numbers.size() ? numbers.get(i) : Integer.MAX_VALUE;
      int others = i < other.numbers.size() ? other.numbers.get(i) : Integer.MAX_VALUE;
      if (mine != others) {
        return Integer.compare(mine, others);
      }
    }
    return 0;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof DatabaseVersion version && numbers.equals(version.numbers);
  }

  @Override
  public int hashCode() {
    return numbers.hashCode();
  }

  /** As it was written; empty for the newest version. */
  @Override
  public String toString() {
    return text;
  }
}
