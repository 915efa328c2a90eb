package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.MEMORY;

import dev.colonnade.dialect.Matching.SkipScan;

/**
 * How much of an index a scan reads beyond what its bounds say.
 *
 * @param inclusiveEnds true when a range is searched with its ends included, so that {@code a > 5}
 *     reads the entries of 5 as well
 * @param skipsBehindRange true when a scan can jump from value to value within a range, so that a
 *     condition behind the range bounds the entries of each
 * @param rangeDisplacesEquality true when, on a descending part of the key, a range beside an
 *     equality is searched in place of it, and on any part a range beside IS NULL
 * @param lowerEndBackwards true when a range that has a lower end only still bounds the scan behind
 *     values where the index is read from its end; a LIKE pattern counts as such a range, NULL as
 *     no value
 */
public record ScanRules(
    Fact<Boolean> inclusiveEnds,
    Fact<Boolean> skipsBehindRange,
    Fact<Boolean> rangeDisplacesEquality,
    Fact<Boolean> lowerEndBackwards) {
  private static final Fact<Boolean> NO = Fact.of(false, MEMORY);
  private static final Fact<Boolean> YES = Fact.of(true, MEMORY);

  /** The rules of a database. */
  public static ScanRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "h2" ->
          new ScanRules(
              Fact.of(
                  true,
                  "source, IndexCursor.java: first and last row are searched as included, the"
                      + " condition is tested afterwards; counted on H2 2.5.252"),
              NO,
              Fact.of(
                  true,
                  "source, IndexCursor.java, prepare: start and end change places, while the"
                      + " greater start and the lesser end are kept, NULL giving way to any value;"
                      + " counted on H2 2.5.252"),
              YES);
      case "postgresql" ->
          new ScanRules(
              Fact.of(false, "src/backend/access/nbtree/README, from memory"),
              Fact.of(
                  dialect.matching().skipScan().value() == SkipScan.FEW_LEADING_VALUES,
                  "release notes 18, E.2.3.1.2: also where the conditions on the early columns are"
                      + " no equalities; buffers counted on PostgreSQL 18.6"),
              NO,
              YES);
      case "hsqldb" ->
          new ScanRules(
              NO,
              NO,
              NO,
              Fact.of(
                  false,
                  "source, RangeVariable.java, reverseIndexCondition: start and end change places,"
                      + " and a last column without the new start is given up; observed on HSQLDB"
                      + " 2.7.4"));
      default -> new ScanRules(NO, NO, NO, YES);
    };
  }
}
