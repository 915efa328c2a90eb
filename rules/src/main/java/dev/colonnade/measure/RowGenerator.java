package dev.colonnade.measure;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.TableStatistics;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import java.util.TreeMap;

/**
 * Makes up the rows of a table from what is stated about it: number of rows up to a cap, number of
 * different values, NULLs, and common values with their shares. Equal input gives equal rows.
 */
final class RowGenerator {
  private static final LocalDate FIRST_DAY = LocalDate.of(2020, 1, 1);
  private static final double UNSTATED_DISTINCT = 200;
  private static final int UNSTATED_ROWS = 1_000;
  private static final int WIDEST = 30;

  private final Table table;
  private final TableStatistics statistics;
  private final int rows;

  /**
   * A generator.
   *
   * @param cap most rows; distinct counts shrink with the rows where values are nearly unique
   */
  RowGenerator(Table table, TableStatistics statistics, int cap) {
    this.table = table;
    this.statistics = statistics;
    this.rows = (int) Math.min(cap, Math.max(0, statistics.rows().orElse(UNSTATED_ROWS)));
  }

  int rows() {
    return rows;
  }

  /** The value of a column in a row counted from 0; null for NULL. */
  Object value(Column column, int row) {
    Identifier name = column.name();
    ColumnStatistics stated = statistics.column(name);
    boolean key = isKey(name);
    Random random =
        new Random(31L * (table.name().folded() + "." + name.folded()).hashCode() + 7919L * row);
    if (!key && column.nullable() && random.nextDouble() < stated.nullFraction().orElse(0)) {
      return null;
    }
    if (key) {
      return typed(column, row);
    }
    double drawn = random.nextDouble();
    for (Map.Entry<String, Double> common : new TreeMap<>(stated.commonValues()).entrySet()) {
      drawn -= common.getValue();
      if (drawn < 0) {
        return parsed(column, common.getKey(), row);
      }
    }
    double distinct = Math.max(1, stated.distinct().orElse(UNSTATED_DISTINCT));
    double all = Math.max(1, statistics.rows().orElse(rows));
    long values = Math.max(1, Math.round(distinct > all / 10 ? distinct * rows / all : distinct));
    return typed(column, random.nextInt((int) Math.min(Integer.MAX_VALUE, values)));
  }

  /** Columns that a key makes unique by themselves, or as the last of several. */
  private boolean isKey(Identifier column) {
    List<Identifier> key = table.primaryKey();
    if (!key.isEmpty() && key.get(key.size() - 1).equals(column)) {
      return true;
    }
    return table.indexes().stream()
        .filter(index -> index.unique())
        .anyMatch(
            index ->
                index
                    .keyColumns()
                    .get(index.keyColumns().size() - 1)
                    .column()
                    .filter(column::equals)
                    .isPresent());
  }

  private Object parsed(Column column, String text, int row) {
    try {
      return switch (column.type().family()) {
        case SMALL_INTEGER, INTEGER, BIG_INTEGER -> Long.valueOf(text.strip());
        case DECIMAL, FLOAT -> new BigDecimal(text.strip());
        case DATE -> LocalDate.parse(text.strip());
        case BOOLEAN -> Boolean.valueOf(text.strip());
        case TEXT -> fitted(column, text);
        default -> typed(column, row);
      };
    } catch (RuntimeException e) {
      return typed(column, row);
    }
  }

  /** The value with the given number of a column's values. */
  Object typed(Column column, int number) {
    return switch (column.type().family()) {
      case SMALL_INTEGER -> (long) (number % 32_000);
      case INTEGER, BIG_INTEGER -> (long) number + 1;
      case DECIMAL, FLOAT -> BigDecimal.valueOf(number % 100_000);
      case DATE -> FIRST_DAY.plusDays(number % 10_000);
      case TIMESTAMP -> LocalDateTime.of(FIRST_DAY, LocalTime.MIDNIGHT).plusMinutes(number);
      case TIME -> LocalTime.MIDNIGHT.plusSeconds(number % 86_400);
      case BOOLEAN -> number % 2 == 0;
      case UUID -> new java.util.UUID(0, number);
      case BINARY -> new byte[] {(byte) (number >> 8), (byte) number};
      case TEXT, LARGE_OBJECT, OTHER -> fitted(column, text(number));
    };
  }

  /** Spread over the alphabet, the number itself at the end. */
  private static String text(int number) {
    char first = (char) ('a' + Math.floorMod(number * 7, 26));
    return first + Integer.toString(number, 36);
  }

  private static String fitted(Column column, String text) {
    OptionalInt length = column.type().length();
    int most = Math.min(WIDEST, length.orElse(WIDEST));
    return text.length() <= most ? text : text.substring(text.length() - most);
  }
}
