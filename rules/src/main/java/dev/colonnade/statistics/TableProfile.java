package dev.colonnade.statistics;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * The numbers of one table on one database: rows, distinct values, selectivities, pages.
 *
 * <p>Predicates and expressions are over columns of the table itself ({@link ColumnRef#SELF}); a
 * column of another table in a predicate counts as a value that is known when the scan starts.
 */
public final class TableProfile {
  private final Table table;
  private final TableStatistics statistics;
  private final Dialect dialect;
  private final PageGeometry geometry;
  private final ColumnWidths widths;

  /** The numbers of a table. */
  public TableProfile(Table table, TableStatistics statistics, Dialect dialect) {
    this.table = table;
    this.statistics = statistics;
    this.dialect = dialect;
    this.geometry = new PageGeometry(dialect.storage());
    this.widths = new ColumnWidths(table, statistics);
  }

  /** Rows of the table. */
  public Estimate rows() {
    return RowCount.of(statistics);
  }

  /** Share of the rows that satisfies all of the conditions, 0 to 1; 1 for none. */
  public Estimate selectivity(List<Predicate> conjuncts) {
    return Estimate.assumed(Math.pow(0.005, conjuncts.size()));
  }

  /** Number of different values of a column, or of an expression. */
  public Estimate distinct(Expression value) {
    return value instanceof ColumnRef ref ? distinct(ref.column()) : Estimate.assumed(200);
  }

  /** Number of different values of a column. */
  public Estimate distinct(Identifier column) {
    OptionalDouble known = statistics.column(column).distinct();
    return known.isPresent()
        ? Estimate.declared(known.getAsDouble())
        : Estimate.assumed(Math.min(200, rows().value()));
  }

  /** Pages of the table; at least 1. */
  public Estimate tablePages() {
    Estimate row = widths.row();
    return new Estimate(
        geometry.tablePages(rows().value(), row.value()),
        rows().confidence().weaker(row.confidence()).weaker(Confidence.DERIVED));
  }

  /**
   * Size of an index of this table, real or thought of: every column of its entries counted, those
   * that the database appends included.
   */
  public IndexSize index(Index index) {
    Estimate key = Estimate.declared(0);
    for (KeyColumn column : index.keyColumns()) {
      key = ColumnWidths.plus(key, widths.of(column.value()));
    }
    Set<Identifier> rest = new LinkedHashSet<>(index.includedColumns());
    if (dialect.storage().appended().value() != Appended.ROW_ADDRESS) {
      rest.addAll(table.primaryKey());
    }
    index.keyColumns().forEach(column -> column.column().ifPresent(rest::remove));
    Estimate entry = ColumnWidths.plus(key, widths.sum(rest));
    Confidence confidence =
        rows().confidence().weaker(entry.confidence()).weaker(Confidence.DERIVED);
    if (index.clustered()) {
      return geometry.clustered(rows().value(), widths.row().value(), key.value(), confidence);
    }
    double entries = rows().value();
    if (index.predicate().isPresent()) {
      entries *= selectivity(List.of(index.predicate().get())).value();
    }
    return geometry.index(entries, entry.value(), key.value(), confidence);
  }

  /** Pages of the table visited for so many of its rows, spread at random. */
  public double pagesVisited(double rows) {
    return pagesVisited(rows, 0);
  }

  /**
   * Pages of the table visited for so many of its rows.
   *
   * @param rows number of rows
   * @param correlation how far the order of the visits follows the order of the rows, -1 to 1
   */
  public double pagesVisited(double rows, double correlation) {
    double pages = tablePages().value();
    double random = pages * (1 - Math.pow(1 - 1 / pages, rows));
    double inOrder = Math.min(pages, Math.ceil(pages * rows / Math.max(1, rows().value())));
    return random + correlation * correlation * (inOrder - random);
  }

  /** How far the order of the rows follows an index: that of its leading column; 0 if unknown. */
  public double correlation(Index index) {
    if (index.clustered()) {
      return 1;
    }
    return index.keyColumns().get(0).column().stream()
        .map(column -> statistics.column(column).correlation())
        .mapToDouble(known -> known.orElse(0))
        .findFirst()
        .orElse(0);
  }
}
