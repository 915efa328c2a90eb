package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;

/**
 * What a database makes of unique keys beyond looking one row up.
 *
 * @param distinctIsMoot true when DISTINCT is dropped where the rows of a single table contain a
 *     whole unique key of it
 * @param wholeEntryIsRow true when equalities on everything that an entry is searched by, the row
 *     number or primary key behind the declared columns included, are known to leave one row
 */
public record UniqueRules(Fact<Boolean> distinctIsMoot, Fact<Boolean> wholeEntryIsRow) {
  private static final Fact<Boolean> NO = Fact.of(false, CAUTION);

  /** The rules of a database; what is not known of one is not claimed. */
  public static UniqueRules of(Dialect dialect) {
    return switch (dialect.shortName()) {
      case "mariadb" ->
          new UniqueRules(
              Fact.of(
                  true,
                  "source, sql_select.cc, list_contains_unique_index, from memory; observed on"
                      + " MariaDB 11.4.5"),
              Fact.of(
                  true, "extended keys, HA_EXT_NOSAME, from memory; observed on MariaDB 11.4.5"));
      case "sqlite" ->
          new UniqueRules(
              Fact.of(
                  true,
                  "source, where.c, isDistinctRedundant, from memory; observed on SQLite 3.54.1"),
              Fact.of(
                  true,
                  "source, where.c, whereLoopAddBtreeIndex, where an equality on the row number"
                      + " sets WHERE_ONEROW, from memory; observed on SQLite 3.54.1"));
      default -> new UniqueRules(NO, NO);
    };
  }
}
