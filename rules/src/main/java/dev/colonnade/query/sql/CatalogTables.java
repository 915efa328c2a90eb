package dev.colonnade.query.sql;

import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Tables that a database has of itself: the information schema (ISO/IEC 9075-11) and the catalogs
 * of the supported databases, by the chapters on system catalogs and data dictionaries of their
 * manuals. No change makes an index on them.
 */
final class CatalogTables {
  private static final Set<String> SCHEMAS =
      Set.of(
          "information_schema",
          "pg_catalog",
          "performance_schema",
          "mysql",
          "sys",
          "syscat",
          "sysibm",
          "sysstat");

  private static final Pattern BARE =
      Pattern.compile(
          "pg_[a-z_]+|(user|all|dba)_(tables|tab_columns|indexes|ind_columns|constraints"
              + "|cons_columns|objects|sequences|views|tab_comments|col_comments|users|triggers"
              + "|source|synonyms)|g?v\\$\\w+|sqlite_(master|schema|sequence)");

  private CatalogTables() {}

  /**
   * Whether a table that no change makes is one of these.
   *
   * @param qualifiers names of the schema and catalog in front of it
   */
  static boolean contains(List<String> qualifiers, Identifier table) {
    return qualifiers.isEmpty()
        ? BARE.matcher(table.text().toLowerCase(Locale.ROOT)).matches()
        : qualifiers.stream()
            .anyMatch(it -> SCHEMAS.contains(Identifier.of(it).text().toLowerCase(Locale.ROOT)));
  }
}
