package dev.colonnade.query.jpql;

import dev.colonnade.dialect.Word;
import dev.colonnade.dialect.Wording;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Says in the database's own words what a query asks for. */
final class SqlWords {
  private static final Pattern TRUTH =
      Pattern.compile("'(?:[^']|'')*'|(?<![.\\w])(true|false)(?![.\\w])", Pattern.CASE_INSENSITIVE);

  private final Wording wording;

  SqlWords(String database) {
    this.wording = Wording.of(database);
  }

  /** A truth value. */
  String truth(boolean value) {
    return wording.of(value ? Word.TRUE : Word.FALSE);
  }

  /** A condition that a mapping gives in SQL, with the database's literals for truth values. */
  String condition(String sql) {
    return TRUTH
        .matcher(sql)
        .replaceAll(
            found ->
                Matcher.quoteReplacement(
                    found.group(1) == null
                        ? found.group()
                        : truth(found.group(1).equalsIgnoreCase("true"))));
  }

  /** ORDER BY's term with its place of missing values, said by a further term where need be. */
  String sorted(String term, boolean descending, Optional<Boolean> nullsFirst) {
    String directed = term + (descending ? " desc" : "");
    if (nullsFirst.isEmpty()) {
      return directed;
    }
    Optional<Boolean> low = wording.nullsLow();
    if (low.isPresent() && nullsFirst.get() == (low.get() != descending)) {
      return directed;
    }
    return wording.of(nullsFirst.get() ? Word.NULLS_FIRST : Word.NULLS_LAST, term, directed);
  }

  /** True where rows of values can be compared as to which comes first. */
  boolean comparesRows() {
    return wording.tryOf(Word.ROW_COMPARISON).isPresent();
  }

  /** True where rows that are grouped by a key may be selected whole. */
  boolean groupsByKey() {
    return wording.tryOf(Word.GROUP_BY_KEY).isPresent();
  }

  /** True where a list can hold rows of values. */
  boolean listsRows() {
    return wording.tryOf(Word.ROW_LIST).isPresent();
  }

  String concat(List<String> parts) {
    return wording.of(Word.CONCAT, String.join(wording.of(Word.CONCAT_BETWEEN), parts));
  }

  String length(String text) {
    return wording.of(Word.LENGTH, text);
  }

  String locate(String part, String text, Optional<String> start) {
    return start.isEmpty()
        ? wording.of(Word.LOCATE, part, text)
        : wording.of(Word.LOCATE_FROM, part, text, start.get());
  }

  String substring(String text, String start, Optional<String> length) {
    return length.isEmpty()
        ? wording.of(Word.SUBSTRING, text, start)
        : wording.of(Word.SUBSTRING_FOR, text, start, length.get());
  }

  String mod(String left, String right) {
    return wording.of(Word.MOD, left, right);
  }

  /** The moment of the statement, by the standard's word for it. */
  String now(String standard) {
    return wording.of(
        switch (standard) {
          case "current_date" -> Word.CURRENT_DATE;
          case "current_time" -> Word.CURRENT_TIME;
          case "local_datetime" -> Word.LOCAL_DATETIME;
          default -> Word.CURRENT_TIMESTAMP;
        });
  }

  /** A field of a moment; empty where the database has no such field. */
  Optional<String> extract(String field, String moment) {
    return switch (field) {
      case "quarter" -> wording.tryOf(Word.QUARTER, moment);
      case "week" -> wording.tryOf(Word.WEEK, moment);
      case "epoch" -> wording.tryOf(Word.EPOCH, moment);
      default -> wording.tryOf(Word.EXTRACT, written(field), moment);
    };
  }

  /** SQLite's letters for fields stand in place of their names. */
  private String written(String field) {
    boolean letters = wording.of(Word.EXTRACT, "", "").startsWith("strftime");
    if (!letters) {
      return field;
    }
    return switch (field) {
      case "year" -> "Y";
      case "month" -> "m";
      case "day" -> "d";
      case "hour" -> "H";
      case "minute" -> "M";
      default -> "S";
    };
  }

  /** The number of a day in its week, from Sunday as 1, or in its year. */
  String dayOf(String unit, String moment) {
    return wording.of(unit.equals("week") ? Word.DAY_OF_WEEK : Word.DAY_OF_YEAR, moment);
  }

  /** The first or last characters of a text. */
  String side(String side, String text, String length) {
    return wording.of(side.equals("left") ? Word.LEFT : Word.RIGHT, text, length);
  }

  /** A text filled up to a length. */
  String pad(String function, String text, String length, Optional<String> character) {
    Word word = function.equals("lpad") ? Word.LPAD : Word.RPAD;
    return wording.of(word, text, length, character.orElse("' '"));
  }

  String ceiling(String number) {
    return wording.of(Word.CEILING, number);
  }

  /** The texts of a group in one. */
  String listagg(String item, String separator, Optional<String> order) {
    return order.isEmpty()
        ? wording.of(Word.LISTAGG, item, separator)
        : wording.of(Word.LISTAGG_ORDERED, item, separator, order.get());
  }

  /** Whether a condition holds for each or for some row of a group. */
  String group(boolean every, String condition) {
    return wording.of(every ? Word.EVERY : Word.ANY, condition);
  }

  /** A moment cut down to a field; empty where the database has no function for that. */
  Optional<String> truncated(String field, String moment) {
    return wording.tryOf(Word.TRUNCATE_MOMENT, field, moment);
  }

  /** A number cut down to so many places. */
  String truncated(String number, String places, boolean written) {
    return written && places.equals("0")
        ? wording.of(Word.TRUNCATE_WHOLE, number)
        : wording.of(Word.TRUNCATE, number, places);
  }

  /** A moment moved by a number of units; empty where the database has no form for that. */
  Optional<String> moved(String moment, String amount, String field) {
    String[] parts = {moment, amount, field, field.toUpperCase(Locale.ROOT)};
    return (isMonths(field) ? wording.tryOf(Word.MOVED_MONTHS, parts) : Optional.<String>empty())
        .or(() -> wording.tryOf(Word.MOVED, parts));
  }

  /** The number of units between two moments; empty where the database has no form for that. */
  Optional<String> difference(String from, String to, String field) {
    String[] parts = {from, to, field, field.toUpperCase(Locale.ROOT)};
    return (isMonths(field)
            ? wording.tryOf(Word.DIFFERENCE_MONTHS, parts)
            : Optional.<String>empty())
        .or(() -> wording.tryOf(Word.DIFFERENCE, parts));
  }

  private static boolean isMonths(String field) {
    return field.equals("year") || field.equals("quarter") || field.equals("month");
  }

  /** A moment as a text; empty where the database has no function for that. */
  Optional<String> formatted(String moment, String format) {
    return wording.tryOf(Word.FORMAT, moment, format);
  }

  /** A literal of a date, a time or both. */
  String moment(String kind, String quoted) {
    return wording.of(Word.MOMENT, kind, quoted);
  }

  /** A CAST to a type by its name in JPQL. */
  String cast(String value, String name, String length) {
    boolean text = name.equalsIgnoreCase("string") && length.isEmpty();
    return text
        ? wording.of(Word.CAST_TO_TEXT, value)
        : "cast(" + value + " as " + type(name, length) + ")";
  }

  /** The type of a CAST by its name in JPQL. */
  String type(String name, String length) {
    String lower = name.toLowerCase(Locale.ROOT);
    return switch (lower.substring(lower.lastIndexOf('.') + 1)) {
      case "string" -> length.isEmpty() ? wording.of(Word.TEXT_TYPE) : "varchar" + length;
      case "integer", "int", "short", "byte" -> wording.of(Word.INTEGER_TYPE);
      case "long" -> wording.of(Word.BIGINT_TYPE);
      case "double", "float" -> wording.of(Word.DOUBLE_TYPE);
      case "bigdecimal", "biginteger" -> length.isEmpty() ? "decimal(38, 2)" : "decimal" + length;
      case "localdate" -> "date";
      case "localtime" -> "time";
      case "instant", "localdatetime", "offsetdatetime", "zoneddatetime" ->
          wording.of(Word.TIMESTAMP_TYPE);
      default -> name + length;
    };
  }

  /** {@code ilike}. */
  String ilike(boolean negated, String left, String right) {
    return wording.of(negated ? Word.NOT_ILIKE : Word.ILIKE, left, right);
  }

  /** The rows of a query that are given out, as the last clause. */
  String limit(Optional<String> limit, Optional<String> offset, boolean ordered) {
    if (limit.isEmpty() && offset.isEmpty()) {
      return "";
    }
    String rows =
        limit.isEmpty()
            ? wording.of(Word.OFFSET, offset.get())
            : offset.isEmpty()
                ? wording.of(Word.LIMIT, limit.get())
                : wording.of(Word.LIMIT_OFFSET, limit.get(), offset.get());
    return (ordered ? "" : wording.of(Word.UNORDERED)) + rows;
  }

  /** The first rows and those equal to the last of them; empty where there is no such clause. */
  Optional<String> withTies(String limit) {
    return wording.tryOf(Word.WITH_TIES, limit);
  }

  /** The end of an insert that minds rows which are there; empty where there is no such clause. */
  Optional<String> onConflict(String columns, String action) {
    return wording.tryOf(Word.ON_CONFLICT, columns, action);
  }

  /** The word for common table expressions that read themselves. */
  String recursive() {
    return wording.of(Word.RECURSIVE);
  }

  /** The database calls the difference of two sets so. */
  String except() {
    return wording.of(Word.EXCEPT);
  }
}
