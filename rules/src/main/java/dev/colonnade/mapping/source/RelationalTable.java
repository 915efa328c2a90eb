package dev.colonnade.mapping.source;

import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;

/** The names of the tables that classes are kept in. */
final class RelationalTable {
  private final RelationalMarks marks;
  private final Names names;

  RelationalTable(RelationalMarks marks, Schema schema) {
    this.marks = marks;
    this.names = new Names(NamingStrategy.JPA, schema);
  }

  /** The table: as written, else the words of the class's simple name. */
  Identifier of(ClassInfo type) {
    Optional<AnnotationInstance> mark = marks.find(List.of(type), RelationalMarks.TABLE);
    return names.table(written(type).orElseGet(() -> RelationalNames.of(simpleName(type))), mark);
  }

  /** The name that the annotation gives. */
  Optional<String> written(ClassInfo type) {
    Optional<AnnotationInstance> mark = marks.find(List.of(type), RelationalMarks.TABLE);
    return Marks.text(mark, "value").or(() -> Marks.text(mark, "name"));
  }

  static String simpleName(ClassInfo type) {
    String name = type.name().toString();
    return name.substring(Math.max(name.lastIndexOf('.'), name.lastIndexOf('$')) + 1);
  }
}
