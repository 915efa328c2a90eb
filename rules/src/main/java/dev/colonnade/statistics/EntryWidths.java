package dev.colonnade.statistics;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Average bytes of the entries of an index: its key, its included columns and what the database
 * appends, each value placed where its type must start.
 */
final class EntryWidths {
  private final Table table;
  private final ColumnWidths widths;
  private final Dialect dialect;

  EntryWidths(Table table, ColumnWidths widths, Dialect dialect) {
    this.table = table;
    this.widths = widths;
    this.dialect = dialect;
  }

  /** Bytes of the key with what the database appends to make it unique: what inner pages hold. */
  Estimate key(Index index) {
    List<KeyColumn> values = new ArrayList<>(index.keyColumns());
    appended(index).forEach(column -> values.add(own(column)));
    return placed(values);
  }

  /** Bytes of a leaf entry. */
  Estimate entry(Index index) {
    List<KeyColumn> values = new ArrayList<>(index.keyColumns());
    Set<Identifier> rest = new LinkedHashSet<>(index.includedColumns());
    rest.addAll(appended(index));
    rest.forEach(column -> values.add(own(column)));
    return placed(values);
  }

  private Set<Identifier> appended(Index index) {
    Set<Identifier> columns = new LinkedHashSet<>();
    if (dialect.storage().appended().value().isKey()) {
      columns.addAll(RowKey.columns(table, dialect));
      index.keyColumns().forEach(key -> key.column().ifPresent(columns::remove));
    }
    return columns;
  }

  private static KeyColumn own(Identifier column) {
    return KeyColumn.of(new ColumnRef(ColumnRef.SELF, column), false);
  }

  /** Of a part that is indexed by its first characters no more than these are stored. */
  private Estimate width(KeyColumn part) {
    Estimate whole = widths.of(part.value());
    return part.prefixLength().isPresent() ? whole.clamp(0, part.prefixLength().getAsInt()) : whole;
  }

  private Estimate placed(List<KeyColumn> values) {
    boolean aligned = dialect.storage().alignment().value() > 1;
    double offset = 0;
    Confidence confidence = Confidence.DERIVED;
    for (KeyColumn value : values) {
      Estimate width = width(value);
      int start = aligned ? start(value.value()) : 1;
      offset = Math.ceil(offset / start) * start + width.value();
      confidence = confidence.weaker(width.confidence());
    }
    return new Estimate(offset, confidence);
  }

  /** Values of fixed width start at multiples of it (PostgreSQL, {@code pg_type.typalign}). */
  private int start(Expression value) {
    TypeFamily family =
        value instanceof ColumnRef ref
            ? table
                .column(ref.column())
                .map(Column::type)
                .map(type -> type.family())
                .orElse(TypeFamily.OTHER)
            : TypeFamily.OTHER;
    return switch (family) {
      case SMALL_INTEGER -> 2;
      case INTEGER, DATE -> 4;
      case BIG_INTEGER, FLOAT, TIME, TIMESTAMP -> 8;
      case DECIMAL, TEXT, BOOLEAN, UUID, BINARY, LARGE_OBJECT, OTHER -> 1;
    };
  }
}
