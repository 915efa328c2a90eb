package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.MEMORY;

/**
 * What lists do to a scan beyond their position in the key.
 *
 * @param singleValue what a list of one value is taken for
 * @param givesWay which lists do not bound a scan beside other conditions on the index
 * @param wholeKeyOnly true when a list of rows bounds several columns only where it names every
 *     column of the key, and of what is included; otherwise it bounds those that continue the key
 * @param firstAlone true when of a list on the leading column and other conditions on the index the
 *     one that is evaluated first bounds the scan, and a list bounds it alone. Of two conditions
 *     the list comes first; of more that depends on their wording
 */
public record ListRules(
    Fact<SingleValue> singleValue,
    Fact<GivesWay> givesWay,
    Fact<Boolean> wholeKeyOnly,
    Fact<Boolean> firstAlone) {

  /** What a list of one value is taken for. */
  public enum SingleValue {
    /** An equality. */
    EQUALITY,
    /** An equality where it is written once; {@code a = 5 or a = 5} stays a list. */
    EQUALITY_IF_WRITTEN_ONCE,
    /** A list like any other. */
    LIST
  }

  /** Which lists do not bound a scan beside other conditions. */
  public enum GivesWay {
    /** None. */
    NONE,
    /** A list of rows, where anything else bounds the leading column. */
    ROWS_TO_LEADING,
    /**
     * A list of rows or the rows of a subquery, where an equality or a range stands on any column
     * of the index, or a list on the leading one.
     */
    ROWS_AND_SUBQUERIES_TO_ANY
  }

  /** The rules of a database. */
  public static ListRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "h2" ->
          new ListRules(
              Fact.of(
                  SingleValue.EQUALITY_IF_WRITTEN_ONCE,
                  "source, ConditionIn.java, optimize; observed on H2 2.5.252"),
              Fact.of(
                  GivesWay.ROWS_AND_SUBQUERIES_TO_ANY,
                  "source, IndexCursor.java, prepare: a list is taken where no start or end stands"
                      + " yet, and cheaper conditions come first; counted on H2 2.5.252"),
              Fact.of(true, "counted on H2 2.5.252"),
              Fact.of(
                  true,
                  "source, IndexCursor.java, prepare, and ConditionAndOr.java, optimize: the"
                      + " cheaper side of an AND first, each AND being as dear as all of its"
                      + " conditions; counted on H2 2.5.252"));
      case "hsqldb" ->
          new ListRules(
              Fact.of(SingleValue.LIST, "observed on HSQLDB 2.7.4: joined with a table of it"),
              Fact.of(GivesWay.ROWS_TO_LEADING, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"),
              Fact.of(false, "observed on HSQLDB 2.7.4"));
      default ->
          new ListRules(
              Fact.of(SingleValue.EQUALITY, MEMORY),
              Fact.of(GivesWay.NONE, MEMORY),
              Fact.of(false, MEMORY),
              Fact.of(false, MEMORY));
    };
  }
}
