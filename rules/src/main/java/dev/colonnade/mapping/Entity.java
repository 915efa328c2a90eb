package dev.colonnade.mapping;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A class whose instances are rows.
 *
 * @param name its name in queries
 * @param className its binary name
 * @param isAbstract true where no row is of this class itself
 * @param table the table of its own attributes; for a single table the root's
 * @param joinedTables further tables with a part of each row, superclasses' tables root first
 * @param subselect the SQL query whose rows the entity's are, where no table holds them; such rows
 *     are read and never changed
 * @param parent binary name of the nearest superclass that is an entity
 * @param inheritance the strategy of its hierarchy
 * @param discriminator what tells its rows from those of its relatives
 * @param id the attributes of its identifier: one, or several under an id class
 * @param version name of the attribute that counts changes
 * @param attributes all attributes, inherited ones first, the identifier's included
 * @param restrictions conditions that are added to every query
 * @param upkeep how its rows are kept
 * @param location the file that declares it
 */
public record Entity(
    String name,
    String className,
    boolean isAbstract,
    Identifier table,
    List<JoinedTable> joinedTables,
    Optional<String> subselect,
    Optional<String> parent,
    Inheritance inheritance,
    Optional<Discriminator> discriminator,
    List<Attribute> id,
    Optional<String> version,
    List<Attribute> attributes,
    List<Restriction> restrictions,
    Upkeep upkeep,
    SourceLocation location) {
  /** Copies the lists. */
  public Entity {
    joinedTables = List.copyOf(joinedTables);
    id = List.copyOf(id);
    attributes = List.copyOf(attributes);
    restrictions = List.copyOf(restrictions);
  }

  /** The attribute of that name; that of an embedded identifier or id class is not looked into. */
  public Optional<Attribute> attribute(String attribute) {
    return find(attributes, attribute);
  }

  /** The attribute at the end of a path through embedded ones. */
  public Optional<Attribute> attributeAt(String path) {
    Optional<Attribute> found = Optional.empty();
    List<Attribute> candidates = attributes;
    for (String part : path.split("\\.", -1)) {
      found = find(candidates, part);
      if (found.isEmpty()) {
        return found;
      }
      candidates =
          found.get() instanceof Attribute.Embedded embedded ? embedded.attributes() : List.of();
    }
    return found;
  }

  /** The columns of the identifier, in the order of its attributes. */
  public List<MappedColumn> idColumns() {
    return columnsOf(id);
  }

  /**
   * True where a row may be without the row that it refers to; what is part of its own identifier
   * ({@code @MapsId}) is always there.
   */
  public boolean mayLack(Attribute.ToOne reference) {
    return reference.nullable()
        && !(reference.link() instanceof Link.OwnColumns own
            && own.pairs().stream()
                .allMatch(
                    pair -> idColumns().stream().anyMatch(id -> id.name().equals(pair.column()))));
  }

  /** The columns of attributes that lie in the entity's own tables, in order. */
  public static List<MappedColumn> columnsOf(List<Attribute> attributes) {
    List<MappedColumn> columns = new ArrayList<>();
    for (Attribute attribute : attributes) {
      if (attribute instanceof Attribute.Basic basic) {
        columns.add(basic.column());
      } else if (attribute instanceof Attribute.Embedded embedded) {
        columns.addAll(columnsOf(embedded.attributes()));
      } else if (attribute instanceof Attribute.ToOne one
          && one.link() instanceof Link.OwnColumns own) {
        own.pairs().forEach(pair -> columns.add(new MappedColumn(own.table(), pair.column())));
      }
    }
    return columns;
  }

  /** The attribute of that name among the given ones. */
  public static Optional<Attribute> find(List<Attribute> attributes, String name) {
    return attributes.stream().filter(attribute -> attribute.name().equals(name)).findFirst();
  }
}
