package dev.colonnade.dialect;

/**
 * Something that SQL is to say and databases write differently. The parts of a form are numbered
 * {@code $0}, {@code $1} and so on.
 */
public enum Word {
  /** The literal of a true value. */
  TRUE,
  /** The literal of a false value. */
  FALSE,
  /** What stands before a name that must be quoted. */
  QUOTE_OPEN,
  /** What stands behind a name that must be quoted. */
  QUOTE_CLOSE,
  /** Texts put together: {@code $0} is the list of them, with {@link #CONCAT_BETWEEN} between. */
  CONCAT,
  /** What stands between texts that are put together. */
  CONCAT_BETWEEN,
  /** The number of characters of {@code $0}. */
  LENGTH,
  /** The place of {@code $0} in {@code $1}. */
  LOCATE,
  /** The place of {@code $0} in {@code $1} from place {@code $2} on. */
  LOCATE_FROM,
  /** The characters of {@code $0} from place {@code $1} on. */
  SUBSTRING,
  /** {@code $2} characters of {@code $0} from place {@code $1} on. */
  SUBSTRING_FOR,
  /** The first {@code $1} characters of {@code $0}. */
  LEFT,
  /** The last {@code $1} characters of {@code $0}. */
  RIGHT,
  /** {@code $0} filled up on the left to {@code $1} characters with {@code $2}. */
  LPAD,
  /** {@code $0} filled up on the right to {@code $1} characters with {@code $2}. */
  RPAD,
  /** The rest of {@code $0} divided by {@code $1}. */
  MOD,
  /** {@code $0} rounded up. */
  CEILING,
  /** {@code $0} cut down to {@code $1} places. */
  TRUNCATE,
  /** {@code $0} cut down to a whole number. */
  TRUNCATE_WHOLE,
  /** Today. */
  CURRENT_DATE,
  /** The time of day. */
  CURRENT_TIME,
  /** Now. */
  CURRENT_TIMESTAMP,
  /** Now, as the clock on the wall shows it. */
  LOCAL_DATETIME,
  /** The field {@code $0} of the moment {@code $1}. */
  EXTRACT,
  /** The quarter of the moment {@code $0}. */
  QUARTER,
  /** The number of the week of {@code $0} in its year. */
  WEEK,
  /** The seconds from 1970 to {@code $0}. */
  EPOCH,
  /** The day of {@code $0} in its week, Sunday being 1. */
  DAY_OF_WEEK,
  /** The day of {@code $0} in its year. */
  DAY_OF_YEAR,
  /** The moment {@code $1} cut down to the field {@code $0}. */
  TRUNCATE_MOMENT,
  /** The moment {@code $0} moved by {@code $1} units of {@code $2}, in capitals {@code $3}. */
  MOVED,
  /** The same where the unit is a number of months. */
  MOVED_MONTHS,
  /** The units {@code $2}, in capitals {@code $3}, from the moment {@code $0} to {@code $1}. */
  DIFFERENCE,
  /** The same where the unit is a number of months. */
  DIFFERENCE_MONTHS,
  /** The moment {@code $0} in the form {@code $1}. */
  FORMAT,
  /** A literal of the kind {@code $0} (date, time, timestamp) with the quoted text {@code $1}. */
  MOMENT,
  /** The texts {@code $0} of a group with {@code $1} between. */
  LISTAGG,
  /** The same in the order {@code $2}. */
  LISTAGG_ORDERED,
  /** True where the condition {@code $0} holds for each row of a group. */
  EVERY,
  /** True where the condition {@code $0} holds for some row of a group. */
  ANY,
  /** The type of texts without a length. */
  TEXT_TYPE,
  /** {@code $0} as a text without a length. */
  CAST_TO_TEXT,
  /** The target of a cast to an int. */
  INTEGER_TYPE,
  /** The target of a cast to a long. */
  BIGINT_TYPE,
  /** The type of numbers with a floating point. */
  DOUBLE_TYPE,
  /** The type of a moment. */
  TIMESTAMP_TYPE,
  /** {@code $0} like {@code $1} whatever their case. */
  ILIKE,
  /** {@code $0} unlike {@code $1} whatever their case. */
  NOT_ILIKE,
  /** The term {@code $0}, with its direction {@code $1}, missing values first. */
  NULLS_FIRST,
  /** The term {@code $0}, with its direction {@code $1}, missing values last. */
  NULLS_LAST,
  /** That rows of values can be compared as to which comes first. */
  ROW_COMPARISON,
  /** That grouping by a key is grouping by all columns of its table, across joins too. */
  GROUP_BY_KEY,
  /** That a list of IN can hold rows of values. */
  ROW_LIST,
  /** The first {@code $0} rows. */
  LIMIT,
  /** The rows behind the first {@code $0}. */
  OFFSET,
  /** {@code $0} rows behind the first {@code $1}. */
  LIMIT_OFFSET,
  /** What a limit asks for where no order is given. */
  UNORDERED,
  /** The first {@code $0} rows and those equal to the last of them. */
  WITH_TIES,
  /**
   * What an insert does where the columns {@code $0}, in parentheses, hold equal values: {@code
   * $1}.
   */
  ON_CONFLICT,
  /** The word for common table expressions that read themselves. */
  RECURSIVE,
  /** The word for the difference of two sets. */
  EXCEPT
}
