package dev.colonnade.schema.change;

import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.IndexOrigin;
import java.util.Optional;
import java.util.function.Predicate;

/** What goes with an index, and what goes with a constraint. */
final class DroppedParts {
  private final SchemaRules rules;

  DroppedParts(SchemaRules rules) {
    this.rules = rules;
  }

  /** An index goes, and with it the keys that it serves. */
  static void index(TableState table, Identifier name) {
    table.removeIndex(name);
    for (Constraint constraint : table.constraints()) {
      if (constraint.index().filter(name::equals).isPresent()) {
        if (constraint.isForeignKey()) {
          table.replaceConstraint(
              constraint, constraint.withIndex(Optional.empty(), /* owns= */ false));
        } else {
          table.removeConstraint(constraint);
        }
      }
    }
  }

  /**
   * All such constraints of a table go, one after the other: what one leaves another may inherit.
   */
  void constraints(TableState table, Predicate<Constraint> condition) {
    for (Optional<Constraint> next = table.constraint(condition);
        next.isPresent();
        next = table.constraint(condition)) {
      constraint(table, next.get());
    }
  }

  /** A constraint goes, and with it the index that it owns, unless another one needs that. */
  void constraint(TableState table, Constraint constraint) {
    table.removeConstraint(constraint);
    if (constraint.isPrimaryKey() && rules.droppedKeyFreesColumns().value()) {
      table.freeKeyColumns();
    }
    if (constraint.index().isEmpty()) {
      return;
    }
    Identifier index = constraint.index().get();
    Optional<Constraint> heir =
        table.constraint(
            other ->
                other.index().filter(index::equals).isPresent()
                    && !(other.isForeignKey() && rules.implicitIndexOutlivesKey().value()));
    if (heir.isPresent()) {
      boolean owns = heir.get().ownsIndex() || constraint.ownsIndex();
      table.replaceConstraint(heir.get(), heir.get().withIndex(Optional.of(index), owns));
      return;
    }
    boolean stays =
        !constraint.ownsIndex()
            || (constraint.isForeignKey() && rules.implicitIndexOutlivesKey().value());
    if (!stays) {
      index(table, index);
    } else if (!constraint.isForeignKey()) {
      table
          .index(index)
          .ifPresent(kept -> table.putIndex(kept.withOrigin(IndexOrigin.CREATE_INDEX)));
    }
  }
}
