package dev.colonnade.schema.change;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;

/**
 * A table or materialized view has the columns of a query's result.
 *
 * @param table the table, which is there already
 * @param selected what the query selects; empty where that is not understood
 * @param names the names written for its columns, in order; empty where the query's stand
 * @param location where it is written
 */
public record QueriedTable(
    Identifier table, List<Selected> selected, List<Identifier> names, SourceLocation location)
    implements SchemaChange {
  /** Copies the lists. */
  public QueriedTable {
    selected = List.copyOf(selected);
    names = List.copyOf(names);
  }

  /**
   * One column of the result, or all columns of tables.
   *
   * @param name its name; empty for all columns of the tables
   * @param column the column whose values it has; empty for any other expression
   * @param tables the tables of which one has that column
   * @param optional true when it may be NULL even where its column may not: behind an outer join,
   *     or computed
   */
  public record Selected(
      Optional<Identifier> name,
      Optional<Identifier> column,
      List<Identifier> tables,
      boolean optional) {
    /** Copies the list. */
    public Selected {
      tables = List.copyOf(tables);
    }
  }

  @Override
  public void accept(SchemaChangeVisitor visitor) {
    visitor.queriedTable(this);
  }
}
