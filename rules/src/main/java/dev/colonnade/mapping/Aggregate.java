package dev.colonnade.mapping;

import java.util.List;
import java.util.Optional;

/**
 * Rows that are read, written and deleted together: those of a root, and those of its parts, which
 * nothing else refers to (Spring Data Relational reference, "Domain Driven Design and Relational
 * Databases").
 *
 * @param root the entity of the root
 * @param reactive true where it is kept by R2DBC, which knows no parts
 * @param unchanged names of the root's attributes that an update leaves as they are, with dots
 *     where they lie in embedded ones
 * @param joined paths from the root to the parts that are read along with it
 * @param parts what lies in further tables, the root's own parts before theirs
 */
public record Aggregate(
    Entity root, boolean reactive, List<String> unchanged, List<String> joined, List<Part> parts) {
  /** Copies the lists. */
  public Aggregate {
    unchanged = List.copyOf(unchanged);
    joined = List.copyOf(joined);
    parts = List.copyOf(parts);
  }

  /**
   * A part of an aggregate.
   *
   * @param path the way to it from the root, with dots
   * @param entity its rows; the columns that lead back to the owner are attributes, too
   * @param owner the path of the nearest part above that has an identifier of its own; empty for
   *     the root
   * @param back names of the attributes that hold the owner's identifier
   * @param readBy names of the attributes by which a collection's rows are read: {@code back}, and
   *     keys of parts between the owner and this one
   * @param key name of the attribute that holds the key of a map or the position in a list
   * @param ordered true where its rows are read in the order of that key
   * @param many true for a collection, which is read by a statement of its own
   * @param identified true where its class says which attribute identifies it
   * @param written true unless its attribute is only read
   * @param joined paths from it to the parts that are read along with it
   */
  public record Part(
      String path,
      Entity entity,
      Optional<String> owner,
      List<String> back,
      List<String> readBy,
      Optional<String> key,
      boolean ordered,
      boolean many,
      boolean identified,
      boolean written,
      List<String> joined) {
    /** Copies the lists. */
    public Part {
      back = List.copyOf(back);
      readBy = List.copyOf(readBy);
      joined = List.copyOf(joined);
    }
  }

  /** The part that the given one belongs to; empty for the root. */
  public Optional<Part> ownerOf(Part part) {
    return part.owner()
        .flatMap(path -> parts.stream().filter(it -> it.path().equals(path)).findFirst());
  }
}
