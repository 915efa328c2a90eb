package dev.colonnade.planner;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestIndex;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * HSQLDB: {@code EXPLAIN PLAN FOR}. The columns of the start and end conditions are those that the
 * scan seeks on; no index can be forced, so that one alone exists when its turn comes.
 */
final class HsqlDbPlanner extends EmbeddedPlanner {
  /** A column that a bound is compared with. */
  private static final Pattern RIGHT = Pattern.compile("arg_right=\\[\\s*COLUMN: [\\w.]+");

  private static final Pattern RANGE =
      Pattern.compile(
          "\\[range variable \\d+(?<body>.*?)(?=\\[range variable|order by=|groupColumns=|"
              + "offset=|limit=|PARAMETERS=)",
          Pattern.DOTALL);
  private static final Pattern TABLE = Pattern.compile("table=(\\w+)");
  private static final Pattern INDEX = Pattern.compile("index=(\\w+)");

  HsqlDbPlanner() throws SQLException {
    super(
        Dialects.hsqldb(),
        new Abilities(
            true,
            true,
            true,
            false,
            Optional.of("is not distinct from"),
            Optional.empty(),
            Optional.empty(),
            false,
            false,
            true,
            true,
            "limit %d offset 3",
            "limit %d"),
        DriverManager.getConnection("jdbc:hsqldb:mem:planner"));
  }

  @Override
  void analyze(TestTable table) {
    // Keeps no statistics to be collected.
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String plan = text("explain plan for " + query.sql());
    Matcher ranges = RANGE.matcher(plan);
    List<String> before = new ArrayList<>();
    while (ranges.find()) {
      String body = ranges.group("body");
      Matcher name = TABLE.matcher(body);
      String scanned = name.find() ? name.group(1).toLowerCase(Locale.ROOT) : "";
      if (!scanned.equals(table.name())) {
        if (query.tables().contains(scanned) && !query.below().contains(scanned)) {
          before.add(scanned);
        }
        continue;
      }
      Matcher used = INDEX.matcher(body);
      if (!used.find() || !used.group(1).equalsIgnoreCase(index.name()) || used.find()) {
        break;
      }
      PlannerWord word = PlannerWord.seeks(matching(body, index), plan);
      boolean apart = query.below().contains(table.name());
      word = word.withApart(query.below()).withReadBefore(apart ? List.of() : before);
      boolean tells = query.rest().contains("by " + table.name() + ".");
      Optional<Boolean> inOrder =
          tells ? inOrder(plan, query.grouped(), query.sorted()) : Optional.empty();
      return inOrder.map(word::withOrdered).orElse(word);
    }
    return PlannerWord.notUsed(plan);
  }

  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    return HsqlDbPlan.read(text("explain plan for " + sql), indexes);
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    return sorted && !grouped ? Optional.of(plan.contains("uses index")) : Optional.empty();
  }

  /** The columns of the key in the start and end conditions of a range variable. */
  static List<String> matching(String body, TestIndex index) {
    int end = body.indexOf("other condition=");
    String bounds = RIGHT.matcher(end < 0 ? body : body.substring(0, end)).replaceAll("");
    Set<String> columns = new LinkedHashSet<>();
    Matcher column =
        Pattern.compile("COLUMN: PUBLIC\\." + index.table().toUpperCase(Locale.ROOT) + "\\.(\\w+)")
            .matcher(bounds);
    while (column.find()) {
      columns.add(column.group(1).toLowerCase(Locale.ROOT));
    }
    return index.keyTexts().stream().filter(columns::contains).toList();
  }
}
