package dev.colonnade.query.derived;

import java.util.List;

/**
 * What a repository method tells apart from its name.
 *
 * @param name the method's name
 * @param values how many values it is given that conditions compare with
 * @param pageable true where a page is asked for: its size and its order are unknown
 * @param projection the attributes that the result consists of; empty for whole entities
 */
public record MethodSignature(String name, int values, boolean pageable, List<String> projection) {
  /** Copies the list. */
  public MethodSignature {
    projection = List.copyOf(projection);
  }
}
