package dev.colonnade.predicate;

import java.util.Locale;
import java.util.Optional;

/**
 * The name of a table, column, index or constraint without quotes, as it was written.
 *
 * <p>Two identifiers are equal when they differ in letter case only: of the supported databases
 * only some tell quoted names apart by case, and a schema that uses the difference is not in scope.
 */
public final class Identifier implements Comparable<Identifier> {
  private final String text;
  private final String folded;

  /**
   * A name.
   *
   * @param text the name as written, without quotes
   */
  public Identifier(String text) {
    this.text = text;
    this.folded = text.toLowerCase(Locale.ROOT);
  }

  /** Strips the quotes of any dialect: double quotes, back quotes, square brackets. */
  public static Identifier of(String written) {
    String text = written.strip();
    if (text.length() > 1) {
      char first = text.charAt(0);
      char last = text.charAt(text.length() - 1);
      if ((first == '"' && last == '"')
          || (first == '`' && last == '`')
          || (first == '[' && last == ']')) {
        text = text.substring(1, text.length() - 1);
      }
    }
    return new Identifier(text);
  }

  /** A name with the schema in front of it, where one is written. */
  public static Identifier in(Optional<Identifier> schema, Identifier name) {
    return schema.map(it -> new Identifier(it.text + "." + name.text)).orElse(name);
  }

  /** The schema written in front of the name; a dot inside a quoted name looks the same. */
  public Optional<Identifier> qualifier() {
    int dot = text.lastIndexOf('.');
    return dot > 0 && dot < text.length() - 1
        ? Optional.of(new Identifier(text.substring(0, dot)))
        : Optional.empty();
  }

  /** The name without the schema in front of it. */
  public Identifier unqualified() {
    return qualifier().isPresent()
        ? new Identifier(text.substring(text.lastIndexOf('.') + 1))
        : this;
  }

  /** The name as written, without quotes. */
  public String text() {
    return text;
  }

  /** The form that is compared: lower case. */
  public String folded() {
    return folded;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Identifier identifier && folded.equals(identifier.folded);
  }

  @Override
  public int hashCode() {
    return folded.hashCode();
  }

  @Override
  public int compareTo(Identifier other) {
    return folded.compareTo(other.folded);
  }

  @Override
  public String toString() {
    return text;
  }
}
