package dev.colonnade.statistics;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Table;
import java.util.Collection;

/**
 * Average stored bytes of columns and expressions.
 *
 * <p>Fixed widths are those that PostgreSQL documents for its types (manual chapter 8); other
 * databases store the same values in nearly as many bytes.
 */
public final class ColumnWidths {
  /** Bytes of a value of which nothing at all is known, as PostgreSQL assumes (from memory). */
  public static final double UNKNOWN_WIDTH = 32;

  /**
   * Up to this declared length a text is taken to fill it, as PostgreSQL's {@code get_typavgwidth}
   * does (from memory).
   */
  public static final int FULL_UP_TO = 32;

  /**
   * From this declared length on the length is taken to be a formality and no longer raises the
   * average, as in PostgreSQL's {@code get_typavgwidth} (from memory).
   */
  public static final int FORMALITY_FROM = 1000;

  /** Bytes kept in the row for a large object that is stored elsewhere; our own choice. */
  public static final double LARGE_OBJECT_WIDTH = 20;

  /** Bytes that state the length of a short text or byte string (PostgreSQL manual 65.6.2). */
  public static final double LENGTH_BYTES = 1;

  /** Bytes of an exact number without precision; our own choice. */
  public static final double UNKNOWN_DECIMAL_WIDTH = 8;

  private final Table table;
  private final TableStatistics statistics;
  private final Estimate row;

  /** The widths of one table's columns. */
  public ColumnWidths(Table table, TableStatistics statistics) {
    this.table = table;
    this.statistics = statistics;
    this.row = rowWidth();
  }

  /** Average bytes of a column as stored. */
  public Estimate of(Identifier column) {
    ColumnStatistics known = statistics.column(column);
    if (known.averageWidth().isPresent()) {
      return Estimate.declared(Math.max(0, known.averageWidth().getAsDouble()));
    }
    return table.column(column).map(Column::type).map(ColumnWidths::of).orElse(unknown());
  }

  /** Average bytes of an expression; those of the column where it is one. */
  public Estimate of(Expression value) {
    return value instanceof ColumnRef ref ? of(ref.column()) : unknown();
  }

  /** Average bytes of several columns together. */
  public Estimate sum(Collection<Identifier> columns) {
    Estimate total = Estimate.declared(0);
    for (Identifier column : columns) {
      total = plus(total, of(column));
    }
    return total;
  }

  /** Average bytes of the columns of a row, without what the database adds to a row. */
  public Estimate row() {
    return row;
  }

  private Estimate rowWidth() {
    if (statistics.rowWidth().isPresent()) {
      return Estimate.declared(Math.max(1, statistics.rowWidth().getAsDouble()));
    }
    return sum(table.columns().stream().map(Column::name).toList());
  }

  private static Estimate unknown() {
    return Estimate.assumed(UNKNOWN_WIDTH);
  }

  static Estimate plus(Estimate left, Estimate right) {
    return new Estimate(left.value() + right.value(), left.confidence().weaker(right.confidence()));
  }

  /** Average bytes of a value of the type as stored. */
  public static Estimate of(ColumnType type) {
    return switch (type.family()) {
      case SMALL_INTEGER -> Estimate.derived(2);
      case INTEGER, DATE -> Estimate.derived(4);
      case BIG_INTEGER, FLOAT, TIME, TIMESTAMP -> Estimate.derived(8);
      case BOOLEAN -> Estimate.derived(1);
      case UUID -> Estimate.derived(16);
      case DECIMAL -> decimal(type);
      case TEXT, BINARY -> text(type);
      case LARGE_OBJECT -> Estimate.assumed(LARGE_OBJECT_WIDTH);
      case OTHER -> unknown();
    };
  }

  /**
   * Two bytes for each four digits and three for sign, scale and length (PostgreSQL manual 8.1).
   */
  private static Estimate decimal(ColumnType type) {
    return type.length().isPresent()
        ? Estimate.derived(3 + 2 * Math.ceil(type.length().getAsInt() / 4.0))
        : Estimate.assumed(UNKNOWN_DECIMAL_WIDTH);
  }

  private static Estimate text(ColumnType type) {
    if (type.length().isEmpty()) {
      return unknown();
    }
    int length = type.length().getAsInt();
    double average =
        length <= FULL_UP_TO
            ? length
            : FULL_UP_TO + (Math.min(length, FORMALITY_FROM) - FULL_UP_TO) / 2.0;
    return Estimate.assumed(average + LENGTH_BYTES);
  }
}
