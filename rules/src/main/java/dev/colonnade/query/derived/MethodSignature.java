package dev.colonnade.query.derived;

import java.util.List;

/**
 * What a repository method tells apart from its name.
 *
 * @param name the method's name
 * @param values how many values it is given that conditions compare with
 * @param pageable true where a page is asked for: its size and its order are unknown
 * @param scrolled true where the rows behind given keys may be asked for
 * @param projection the attributes that the result consists of, those of references as names run
 *     together; empty for whole entities
 * @param fetched paths to entities that are read along, as an entity graph names them
 */
public record MethodSignature(
    String name,
    int values,
    boolean pageable,
    boolean scrolled,
    List<String> projection,
    List<String> fetched) {
  /** Copies the lists. */
  public MethodSignature {
    projection = List.copyOf(projection);
    fetched = List.copyOf(fetched);
  }

  /** A method with which nothing is read along. */
  public MethodSignature(String name, int values, boolean pageable, List<String> projection) {
    this(name, values, pageable, false, projection, List.of());
  }
}
