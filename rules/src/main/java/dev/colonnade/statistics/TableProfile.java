package dev.colonnade.statistics;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.OptionalDouble;

/**
 * The numbers of one table on one database: rows, distinct values, selectivities, pages.
 *
 * <p>Predicates and expressions are over columns of the table itself ({@link ColumnRef#SELF}); a
 * column of another table in a predicate counts as a value that is known when the scan starts.
 */
public final class TableProfile {
  /** What further key columns leave of the order of the leading one. */
  private static final double MORE_COLUMNS = 0.75;

  private final Table table;
  private final TableStatistics statistics;
  private final Dialect dialect;
  private final PageGeometry geometry;
  private final ColumnWidths widths;
  private final EntryWidths entryWidths;
  private final ColumnFacts facts;
  private final SelectivityEstimator selectivity;

  /** The numbers of a table. */
  public TableProfile(Table table, TableStatistics statistics, Dialect dialect) {
    this.table = table;
    this.statistics = statistics;
    this.dialect = dialect;
    this.geometry = new PageGeometry(dialect.storage());
    this.widths = new ColumnWidths(table, statistics);
    this.entryWidths = new EntryWidths(table, widths, dialect);
    this.facts = new ColumnFacts(table, statistics);
    this.selectivity = new SelectivityEstimator(facts);
  }

  /** Rows of the table. */
  public Estimate rows() {
    return facts.rows();
  }

  /** Share of the rows that satisfies all of the conditions, 0 to 1; 1 for none. */
  public Estimate selectivity(List<Predicate> conjuncts) {
    return selectivity.ofAll(conjuncts);
  }

  /** Number of different values of a column, or of an expression; at least 1. */
  public Estimate distinct(Expression value) {
    return facts.distinct(value);
  }

  /** Number of different values of a column; at least 1. */
  public Estimate distinct(Identifier column) {
    return facts.distinct(column);
  }

  /** Average bytes of the columns of a row, without what the database adds to a row. */
  public Estimate rowBytes() {
    return widths.row();
  }

  /** Average bytes of a column as stored. */
  public Estimate columnBytes(Identifier column) {
    return widths.of(column);
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
   * that the database appends included. An index that the rows themselves are stored in has the
   * table's pages as its leaf pages.
   */
  public IndexSize index(Index index) {
    Estimate key = entryWidths.key(index);
    if (holdsRows(index)) {
      Confidence confidence = rows().confidence().weaker(widths.row().confidence());
      return geometry.clustered(
          rows().value(), widths.row().value(), key.value(), confidence.weaker(Confidence.DERIVED));
    }
    Estimate entry = entryWidths.entry(index);
    Estimate entries = entries(index);
    Confidence confidence =
        entries.confidence().weaker(entry.confidence()).weaker(Confidence.DERIVED);
    OptionalDouble keys =
        new SharedKeys(facts, dialect.storage().sharedEntries().value()).of(index, entries.value());
    return keys.isPresent()
        ? geometry.sharing(
            entries.value(), keys.getAsDouble(), entry.value(), key.value(), confidence)
        : geometry.index(entries.value(), entry.value(), key.value(), confidence);
  }

  /** True when the rows of the table are stored in the order of this index and as part of it. */
  public boolean holdsRows(Index index) {
    return RowKey.isOf(index, table, dialect);
  }

  /** True where the primary key of the table is the number by which the database finds a row. */
  public static boolean isRowNumber(Table table, Dialect dialect) {
    return table.primaryKey().size() == 1
        && table
            .column(table.primaryKey().get(0))
            .map(Column::type)
            .filter(
                type ->
                    dialect
                        .storage()
                        .appended()
                        .value()
                        .isRowNumber(type.text(), type.family().isInteger()))
            .isPresent();
  }

  private Estimate entries(Index index) {
    Estimate entries = rows();
    if (index.predicate().isPresent()) {
      entries = entries.times(selectivity(Conditions.conjuncts(index.predicate().get())));
    }
    if (!dialect.features().storesAllNullKeys().value()) {
      Estimate allNull = Estimate.declared(1);
      for (KeyColumn column : index.keyColumns()) {
        allNull = allNull.times(facts.nulls(column.value()));
      }
      entries = entries.times(new Estimate(1 - allNull.value(), allNull.confidence()));
    }
    return entries;
  }

  /** True when a scan of several stretches goes on to a near one without a new descent. */
  public boolean stepsOn() {
    return dialect.storage().stepsOn().value();
  }

  /** Pages of the table visited for so many of its rows, spread at random. */
  public double pagesVisited(double rows) {
    return pagesVisited(rows, 0);
  }

  /**
   * Pages of the table visited for so many of its rows: between what a random spread needs (Yao)
   * and what the rows fill when they lie together, by the square of the correlation as PostgreSQL's
   * {@code cost_index} weighs them.
   *
   * @param rows number of rows
   * @param correlation how far the order of the visits follows the order of the rows, -1 to 1
   */
  public double pagesVisited(double rows, double correlation) {
    double all = rows().value();
    double wanted = Math.min(Math.max(0, rows), all);
    if (wanted <= 0) {
      return 0;
    }
    double pages = tablePages().value();
    double random = PageVisits.yao(all, pages, wanted);
    double together = Math.min(random, Math.max(1, Math.ceil(pages * wanted / all)));
    return random + correlation * correlation * (together - random);
  }

  /**
   * How far the order of the rows follows an index: as stated of it; else that of its leading
   * column, three quarters of it where further columns follow (PostgreSQL's {@code
   * btcostestimate}); 0 if unknown.
   */
  public double correlation(Index index) {
    if (holdsRows(index)) {
      return 1;
    }
    Double stated = statistics.clustering().get(index.name());
    if (stated != null) {
      return stated;
    }
    double leading =
        index
            .keyColumns()
            .get(0)
            .column()
            .map(column -> statistics.column(column).correlation().orElse(0))
            .orElse(0.0);
    return index.keyColumns().size() > 1 ? leading * MORE_COLUMNS : leading;
  }
}
