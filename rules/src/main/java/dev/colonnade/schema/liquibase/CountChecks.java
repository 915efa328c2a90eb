package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.StatementRules.CatalogCase;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaFold;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Answers queries of the form {@code SELECT COUNT(*) FROM ...}, as sqlCheck has them, by the schema
 * and the rows that the changelog itself has led to: over catalogs of databases where the condition
 * names tables, columns, indexes or constraints, and over tables of which is known how many rows
 * they have. Whatever else is asked for stays unknown.
 */
final class CountChecks {
  private static final Pattern COUNT =
      Pattern.compile(
          "(?is)select\\s+count\\s*\\(\\s*(?:\\*|1|[\\w.]+)\\s*\\)(?:\\s+as\\s+\\w+)?\\s+from\\s+"
              + "([\\w.\"`\\[\\]]+)(?:\\s+(?:as\\s+)?(?!where\\b)\\w+)?(?:\\s+where\\s+(.+))?");

  private static final Pattern EQUALITY =
      Pattern.compile(
          "(?is)(?:(upper|lower)\\s*\\(\\s*)?(?:\\w+\\.)?(\\w+)\\s*\\)?\\s*=\\s*"
              + "(?:(upper|lower)\\s*\\(\\s*)?'([^']*)'\\s*\\)?");

  /** Conditions on where an object lies: the changelog's objects lie where it is run. */
  private static final Pattern PLACE =
      Pattern.compile(
          "(?is)(?:\\w+\\.)?(?:table_schema|schemaname|constraint_schema|index_schema|owner"
              + "|table_owner|table_catalog|tabschema)\\s*=\\s*.+");

  private static final Set<String> TABLES =
      Set.of(
          "information_schema.tables",
          "user_tables",
          "all_tables",
          "pg_tables",
          "sys.tables",
          "pg_catalog.pg_tables",
          "sqlite_master");

  private static final Set<String> COLUMNS =
      Set.of("information_schema.columns", "user_tab_columns", "all_tab_columns", "user_tab_cols");

  private static final Set<String> INDEXES =
      Set.of("pg_indexes", "pg_catalog.pg_indexes", "user_indexes", "all_indexes", "sys.indexes");

  private static final String STATISTICS = "information_schema.statistics";

  private static final Set<String> CONSTRAINTS =
      Set.of("information_schema.table_constraints", "user_constraints", "all_constraints");

  private final SchemaFold fold;
  private final CatalogCase catalogCase;

  CountChecks(SchemaFold fold, CatalogCase catalogCase) {
    this.fold = fold;
    this.catalogCase = catalogCase;
  }

  /** Whether the query gives the expected result. */
  Trilean check(String sql, String expected) {
    if (sql == null || expected == null) {
      return Trilean.UNKNOWN;
    }
    OptionalLong count = count(sql.strip().replaceFirst("\\s*;\\s*$", ""));
    return count.isPresent()
        ? Trilean.of(String.valueOf(count.getAsLong()).equals(expected.strip()))
        : Trilean.UNKNOWN;
  }

  /** Whether a table has that many rows. */
  Trilean rows(String table, long expected) {
    OptionalLong rows = table == null ? OptionalLong.empty() : fold.rows(Identifier.of(table));
    return rows.isPresent() ? Trilean.of(rows.getAsLong() == expected) : Trilean.UNKNOWN;
  }

  private OptionalLong count(String sql) {
    Matcher query = COUNT.matcher(sql);
    if (!query.matches()) {
      return OptionalLong.empty();
    }
    String from = query.group(1).toLowerCase(Locale.ROOT).replaceAll("[\"`\\[\\]]", "");
    Optional<String> where = Optional.ofNullable(query.group(2));
    if (isCatalog(from)) {
      return where
          .flatMap(this::equalities)
          .map(asked -> inCatalog(from, asked))
          .orElse(OptionalLong.empty());
    }
    OptionalLong rows = fold.rows(Identifier.of(from.substring(from.lastIndexOf('.') + 1)));
    boolean known = rows.isPresent() && (where.isEmpty() || rows.getAsLong() == 0);
    boolean plain =
        where.isEmpty() || !where.get().matches("(?is).*\\b(?:group|union|having)\\b.*");
    return known && plain ? rows : OptionalLong.empty();
  }

  private static boolean isCatalog(String from) {
    return TABLES.contains(from)
        || COLUMNS.contains(from)
        || INDEXES.contains(from)
        || CONSTRAINTS.contains(from)
        || from.equals(STATISTICS);
  }

  /** What each column of the catalog is to be; nothing where a condition says anything else. */
  private Optional<Map<String, String>> equalities(String where) {
    Map<String, String> asked = new HashMap<>();
    for (String part : where.split("(?i)\\band\\b", -1)) {
      String condition = part.strip();
      Matcher equality = EQUALITY.matcher(condition);
      if (PLACE.matcher(condition).matches()) {
        continue;
      }
      if (!equality.matches() || !isInCatalogCase(equality)) {
        return Optional.empty();
      }
      asked.put(column(equality.group(2)), equality.group(4));
    }
    return Optional.of(asked);
  }

  /** False where the catalog may have the same name in another case. */
  private boolean isInCatalogCase(Matcher equality) {
    String name = equality.group(4);
    String function = equality.group(1) == null ? "" : equality.group(1).toLowerCase(Locale.ROOT);
    String folded =
        switch (function) {
          case "upper" -> name.toUpperCase(Locale.ROOT);
          case "lower" -> name.toLowerCase(Locale.ROOT);
          default ->
              switch (catalogCase) {
                case LOWER -> name.toLowerCase(Locale.ROOT);
                case UPPER -> name.toUpperCase(Locale.ROOT);
                case ANY -> name;
              };
        };
    return equality.group(3) != null || folded.equals(name);
  }

  /** One name for what the catalogs call differently. */
  private static String column(String written) {
    return switch (written.toLowerCase(Locale.ROOT)) {
      case "table_name", "tablename", "tbl_name" -> "table";
      case "column_name" -> "column";
      case "index_name", "indexname" -> "index";
      case "constraint_name" -> "constraint";
      default -> written.toLowerCase(Locale.ROOT);
    };
  }

  private OptionalLong inCatalog(String from, Map<String, String> asked) {
    if (TABLES.contains(from)) {
      String name = asked.getOrDefault("table", asked.get("name"));
      boolean others =
          asked.keySet().stream().anyMatch(key -> !Set.of("table", "name").contains(key));
      return name == null || others ? OptionalLong.empty() : number(exists(name));
    }
    if (COLUMNS.contains(from) && asked.keySet().equals(Set.of("table", "column"))) {
      return number(
          table(asked).flatMap(it -> it.column(Identifier.of(asked.get("column")))).isPresent());
    }
    if (CONSTRAINTS.contains(from) && onlyOf(asked, "constraint")) {
      return number(
          fold.tablesOfConstraint(Identifier.of(asked.get("constraint"))).stream()
              .anyMatch(it -> isAsked(asked, it)));
    }
    boolean indexes = INDEXES.contains(from) || from.equals(STATISTICS);
    String name = asked.getOrDefault("index", asked.get("name"));
    if (!indexes || name == null || !(onlyOf(asked, "index") || onlyOf(asked, "name"))) {
      return OptionalLong.empty();
    }
    Optional<Index> index =
        fold.tableOfIndex(Identifier.of(name))
            .filter(it -> isAsked(asked, it))
            .flatMap(fold::table)
            .flatMap(it -> it.index(Identifier.of(name)));
    // The statistics of MySQL list one row for each column of the key.
    return from.equals(STATISTICS)
        ? OptionalLong.of(index.map(it -> it.keyColumns().size()).orElse(0))
        : number(index.isPresent());
  }

  private static boolean onlyOf(Map<String, String> asked, String key) {
    return asked.containsKey(key)
        && asked.keySet().stream().allMatch(it -> it.equals(key) || it.equals("table"));
  }

  private static boolean isAsked(Map<String, String> asked, Identifier table) {
    return !asked.containsKey("table") || Identifier.of(asked.get("table")).equals(table);
  }

  private boolean exists(String name) {
    Identifier table = Identifier.of(name);
    return fold.table(table).isPresent() || fold.viewName(table).isPresent();
  }

  private Optional<Table> table(Map<String, String> asked) {
    return fold.table(Identifier.of(asked.get("table")));
  }

  private static OptionalLong number(boolean there) {
    return OptionalLong.of(there ? 1 : 0);
  }
}
