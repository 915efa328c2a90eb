package dev.colonnade.access;

import dev.colonnade.dialect.ComparisonRules;
import dev.colonnade.dialect.ComparisonRules.Conversion;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Literal;
import dev.colonnade.predicate.Expression.LiteralKind;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.TypeFamily;
import java.util.Optional;

/**
 * Which side of a comparison a database converts where a column meets a value of another type. What
 * is not known to differ counts as {@link Conversion#VALUE}: parameters take the type that the
 * service gives them.
 *
 * @param rules what the database does
 */
public record Conversions(ComparisonRules rules) {

  /**
   * What becomes of a column that is compared with a value.
   *
   * @param column the column whose index is in question
   * @param value what it is compared with
   * @param valueColumn the column that the value is, where it is one and is known
   */
  public Conversion of(Column column, Expression value, Optional<Column> valueColumn) {
    Optional<TypeFamily> other =
        value instanceof Literal literal
            ? familyOf(literal)
            : valueColumn.map(it -> it.type().family());
    if (other.isEmpty()) {
      return Conversion.VALUE;
    }
    TypeFamily own = column.type().family();
    if (own == TypeFamily.TEXT) {
      return ofText(column, other.get(), valueColumn);
    }
    boolean integer =
        own == TypeFamily.SMALL_INTEGER
            || own == TypeFamily.INTEGER
            || own == TypeFamily.BIG_INTEGER;
    if (integer && hasFraction(value, other.get())) {
      Conversion conversion = rules.integerWithDecimal().value();
      return conversion == Conversion.UNKNOWN ? Conversion.VALUE : conversion;
    }
    boolean rejected =
        own.isNumeric()
            && valueColumn.isPresent()
            && other.get() == TypeFamily.TEXT
            && rules.textWithNumber().value() == Conversion.REJECTED;
    return rejected ? Conversion.REJECTED : Conversion.VALUE;
  }

  private Conversion ofText(Column column, TypeFamily other, Optional<Column> valueColumn) {
    if (other.isNumeric()) {
      Conversion conversion = rules.textWithNumber().value();
      // Between two columns it is the text that gives way everywhere.
      return conversion == Conversion.VALUE && valueColumn.isPresent()
          ? Conversion.COLUMN
          : conversion;
    }
    if (isMoment(other)) {
      return rules.textWithMoment().value();
    }
    boolean collationsDiffer =
        other == TypeFamily.TEXT
            && column.collation().isPresent()
            && valueColumn.flatMap(Column::collation).isPresent()
            && !column
                .collation()
                .get()
                .equalsIgnoreCase(valueColumn.flatMap(Column::collation).get());
    return collationsDiffer ? Conversion.COLUMN : Conversion.VALUE;
  }

  private static boolean isMoment(TypeFamily family) {
    return switch (family) {
      case DATE, TIME, TIMESTAMP -> true;
      case SMALL_INTEGER,
          INTEGER,
          BIG_INTEGER,
          DECIMAL,
          FLOAT,
          TEXT,
          BOOLEAN,
          UUID,
          BINARY,
          LARGE_OBJECT,
          OTHER ->
          false;
    };
  }

  private static boolean hasFraction(Expression value, TypeFamily family) {
    return value instanceof Literal literal
        ? literal.kind() == LiteralKind.NUMBER && !literal.text().matches("[+-]?\\d+")
        : family == TypeFamily.DECIMAL || family == TypeFamily.FLOAT;
  }

  /** The type of a literal; empty where unknown. */
  static Optional<TypeFamily> familyOf(Literal literal) {
    return switch (literal.kind()) {
      case NUMBER -> Optional.of(TypeFamily.DECIMAL);
      case TEXT -> Optional.of(TypeFamily.TEXT);
      case BOOLEAN -> Optional.of(TypeFamily.BOOLEAN);
      case DATE -> Optional.of(TypeFamily.DATE);
      case TIME -> Optional.of(TypeFamily.TIME);
      case TIMESTAMP -> Optional.of(TypeFamily.TIMESTAMP);
      case NULL, OTHER -> Optional.empty();
    };
  }
}
