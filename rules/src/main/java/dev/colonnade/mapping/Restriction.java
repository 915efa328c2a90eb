package dev.colonnade.mapping;

import java.util.List;

/**
 * An SQL condition that is added to every query of an entity or of a collection.
 *
 * @param parts the text, cut where the alias of the table and a dot belong
 */
public record Restriction(List<String> parts) {
  /** Copies the list. */
  public Restriction {
    parts = List.copyOf(parts);
  }

  /** The condition on the only table of a statement. */
  public String bare() {
    return String.join("", parts);
  }

  /** The condition on the table of that alias. */
  public String on(String alias) {
    return String.join(alias + ".", parts);
  }
}
