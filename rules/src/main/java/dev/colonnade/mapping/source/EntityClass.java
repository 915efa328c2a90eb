package dev.colonnade.mapping.source;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.source.Members.Access;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.ClassInfo;

/** An entity's class on the way to be read: what is known before its attributes are. */
final class EntityClass {
  /**
   * A class that gives attributes to an entity: the entity's own, a superclass of it, or a mapped
   * superclass.
   *
   * @param owner the entity whose table holds what it declares, under joined tables
   */
  record Layer(ClassInfo type, TypeArguments arguments, EntityClass owner) {}

  final ClassInfo type;
  final SourceLocation location;
  final String name;
  final Identifier ownTable;
  final Access access;
  final Optional<EntityClass> parent;
  final Inheritance inheritance;
  final List<Layer> layers = new ArrayList<>();

  /** The identifier as far as it has been asked for; null before. */
  List<Attribute> id;

  /** True while the identifier is being read: an identifier that refers to itself has no end. */
  boolean readingId;

  EntityClass(
      ClassInfo type,
      SourceLocation location,
      String name,
      Identifier ownTable,
      Access access,
      Optional<EntityClass> parent,
      Inheritance inheritance) {
    this.type = type;
    this.location = location;
    this.name = name;
    this.ownTable = ownTable;
    this.access = access;
    this.parent = parent;
    this.inheritance = inheritance;
  }

  String className() {
    return type.name().toString();
  }

  EntityClass root() {
    return parent.map(EntityClass::root).orElse(this);
  }

  /** The table of its own attributes. */
  Identifier table() {
    return inheritance == Inheritance.SINGLE_TABLE ? root().ownTable : ownTable;
  }

  /** The table of what a layer declares. */
  Identifier tableOf(Layer layer) {
    return inheritance == Inheritance.JOINED ? layer.owner().ownTable : table();
  }
}
