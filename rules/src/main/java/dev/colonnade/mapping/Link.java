package dev.colonnade.mapping;

import dev.colonnade.predicate.Identifier;
import java.util.List;

/** The way from the table of an entity to that of another, or to the elements of a collection. */
public sealed interface Link {
  /**
   * The entity's own table holds the foreign key.
   *
   * @param table the table that holds it: the entity's own, a secondary or a superclass's
   * @param pairs its columns, and the columns of the target that they refer to
   */
  record OwnColumns(Identifier table, List<ColumnPair> pairs) implements Link {
    /** Copies the list. */
    public OwnColumns {
      pairs = List.copyOf(pairs);
    }
  }

  /**
   * A value computed from the entity's own table is the target's key.
   *
   * @param formula the computation, cut where the alias of the entity's table belongs
   * @param referenced the column of the target that it refers to
   */
  record ByFormula(Restriction formula, Identifier referenced) implements Link {}

  /**
   * The target's table holds the foreign key, and no attribute of the target speaks of it.
   *
   * @param pairs columns of the target, and the columns of the entity that they refer to
   */
  record TargetColumns(List<ColumnPair> pairs) implements Link {
    /** Copies the list. */
    public TargetColumns {
      pairs = List.copyOf(pairs);
    }
  }

  /**
   * An attribute of the target holds the way back.
   *
   * @param mappedBy the attribute, with dots where it lies in an embedded one
   */
  record Inverse(String mappedBy) implements Link {}

  /**
   * A table of its own holds foreign keys to both.
   *
   * @param table the table
   * @param toOwner its columns, and the columns of the entity that they refer to
   * @param toTarget its columns, and the columns of the target that they refer to
   */
  record ThroughTable(Identifier table, List<ColumnPair> toOwner, List<ColumnPair> toTarget)
      implements Link {
    /** Copies the lists. */
    public ThroughTable {
      toOwner = List.copyOf(toOwner);
      toTarget = List.copyOf(toTarget);
    }

    /** The way back: the target's as if it were the owner. */
    public ThroughTable reversed() {
      return new ThroughTable(table, /* toOwner= */ toTarget, /* toTarget= */ toOwner);
    }
  }

  /**
   * A table of its own holds the elements themselves.
   *
   * @param table the table
   * @param toOwner its columns, and the columns of the entity that they refer to
   * @param element the element, a value or an embedded one, in columns of that table
   */
  record Elements(Identifier table, List<ColumnPair> toOwner, Attribute element) implements Link {
    /** Copies the list. */
    public Elements {
      toOwner = List.copyOf(toOwner);
    }
  }
}
