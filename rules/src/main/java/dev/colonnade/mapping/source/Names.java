package dev.colonnade.mapping.source;

import dev.colonnade.mapping.NamingStrategy;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import java.util.Optional;
import java.util.stream.Stream;
import org.jboss.jandex.AnnotationInstance;

/** Turns names of classes and annotations into names of the database. */
final class Names {
  private final NamingStrategy strategy;
  private final Schema schema;

  Names(NamingStrategy strategy, Schema schema) {
    this.strategy = strategy;
    this.schema = schema;
  }

  /** The name of a column or of a table without its schema; quotes around it are dropped. */
  Identifier physical(String logical) {
    return new Identifier(strategy.physical(Identifier.of(logical).text()));
  }

  /**
   * The name of a table: with the schema or catalog that the annotation gives, where the changelog
   * makes the table there.
   *
   * @param mark the annotation that says which table it is, if there is one
   */
  Identifier table(String logical, Optional<AnnotationInstance> mark) {
    Identifier name = physical(logical);
    return Stream.of(Marks.text(mark, "schema"), Marks.text(mark, "catalog"))
        .flatMap(Optional::stream)
        .map(home -> Identifier.in(Optional.of(physical(home)), name))
        .filter(this::isThere)
        .findFirst()
        .orElse(name);
  }

  private boolean isThere(Identifier qualified) {
    Optional<Table> table = schema.table(qualified);
    return table.map(Table::name).filter(qualified::equals).isPresent()
        || table.flatMap(Table::schemaName).equals(qualified.qualifier());
  }

  NamingStrategy strategy() {
    return strategy;
  }
}
