package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Attribute;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.ClassInfo;

/** Whose properties are read: the root or a part. */
final class AggregateOwner {
  final ClassInfo type;
  final String path;
  final Identifier table;
  final Optional<AggregateOwner> above;

  /** Its identifier, as its class says; empty where that says none. */
  List<Attribute> id = List.of();

  Optional<Attribute.Basic> key = Optional.empty();

  /** The columns by which its rows are read, if it is a part. */
  List<Attribute.Basic> readBy = List.of();

  Optional<String> version = Optional.empty();
  final List<String> joined = new ArrayList<>();

  AggregateOwner(ClassInfo type, String path, Identifier table, Optional<AggregateOwner> above) {
    this.type = type;
    this.path = path;
    this.table = table;
    this.above = above;
  }

  /** The nearest owner with an identifier of its own: this one, or one above. */
  AggregateOwner identified() {
    return id.isEmpty() && above.isPresent() ? above.get().identified() : this;
  }

  String pathTo(String name) {
    return path.isEmpty() ? name : path + "." + name;
  }

  /** True where the class is this owner's or that of one above. */
  boolean isOf(ClassInfo other) {
    return type.name().equals(other.name()) || above.filter(it -> it.isOf(other)).isPresent();
  }
}
