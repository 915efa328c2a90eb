package dev.colonnade.planner;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * H2: {@code EXPLAIN ANALYZE} of a query with {@code USE INDEX}.
 *
 * <p>The plan lists every condition on a column of the index, also those behind a gap, which do not
 * seek. Those that do are the ones up to the first column without equality (IndexCursor.java: start
 * and end of the cursor are rows filled column by column; an IN is stepped through on the first
 * column only, and alone). The counted entries, {@code scanCount}, say whether that is so.
 */
final class H2Planner extends EmbeddedPlanner {
  private static final Pattern COUNT = Pattern.compile("/\\* scanCount: (\\d+) \\*/");

  H2Planner() throws SQLException {
    super(
        Dialects.h2(),
        new Abilities(
            true,
            true,
            true,
            Optional.of("is not distinct from"),
            Optional.empty(),
            Optional.empty(),
            true,
            false,
            true,
            "limit %d"),
        DriverManager.getConnection("jdbc:h2:mem:"));
  }

  @Override
  void analyze(TestTable table) throws SQLException {
    execute("analyze");
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String sql =
        query.sql(name -> name.equals(table.name()) ? " use index (" + index.name() + ")" : "");
    String plan = text("explain analyze " + sql);
    String used = "PUBLIC." + index.name().toUpperCase(Locale.ROOT);
    Pattern comment =
        Pattern.compile(
            "\"?\\b"
                + table.name().toUpperCase(Locale.ROOT)
                + "\"? USE INDEX [^/]*/\\* "
                + used
                + "(?:: (?<conditions>.*?))?\\s*\\*/(?<after>\\s*/\\* scanCount[^*]*\\*/)?",
            Pattern.DOTALL);
    Matcher found = comment.matcher(plan);
    if (!found.find()) {
      return PlannerWord.notUsed(plan);
    }
    PlannerWord word = PlannerWord.seeks(prefix(found.group("conditions"), index), plan);
    OptionalLong counted = count(found.group("after"));
    if (counted.isPresent()) {
      word = word.withEntries(counted.getAsLong());
    }
    List<String> before = new ArrayList<>();
    boolean apart = query.below().contains(table.name());
    for (String other : query.tables()) {
      int place =
          plan.indexOf(
              "\"PUBLIC\".\"" + other.toUpperCase(Locale.ROOT) + "\"",
              plan.indexOf("FROM \"PUBLIC\""));
      if (!apart
          && !other.equals(table.name())
          && !query.below().contains(other)
          && place >= 0
          && place < firstUse(plan, table)) {
        before.add(other);
      }
    }
    word = word.withApart(query.below()).withReadBefore(before);
    if (query.sorted() && !query.grouped()) {
      return word.withOrdered(plan.contains("/* index sorted */"));
    }
    boolean groups = query.grouped() && !query.sorted() && query.rest().contains("group by");
    return groups ? word.withOrdered(plan.contains("/* group sorted */")) : word;
  }

  /** Where FROM names the table: the select list stands before it. */
  private static int firstUse(String plan, TestTable table) {
    return plan.indexOf("\"" + table.name().toUpperCase(Locale.ROOT) + "\" USE INDEX");
  }

  private static OptionalLong count(String text) {
    if (text == null) {
      return OptionalLong.empty();
    }
    Matcher count = COUNT.matcher(text);
    return count.find() ? OptionalLong.of(Long.parseLong(count.group(1))) : OptionalLong.empty();
  }

  private static List<String> prefix(String conditions, TestIndex index) {
    List<String> matching = new ArrayList<>();
    if (conditions == null) {
      return matching;
    }
    List<String> clauses =
        List.of(
            conditions.replaceFirst("(?s)IN\\(SELECT.*", "IN(SELECT)").split("\\s+AND\\s+", -1));
    for (TestKey key : index.key()) {
      String name = key.text().toUpperCase(Locale.ROOT);
      boolean point = false;
      boolean bound = false;
      boolean steps = false;
      for (String clause : clauses) {
        String text = clause.strip();
        if (!text.startsWith(name + " ")) {
          continue;
        }
        String rest = text.substring(name.length() + 1);
        boolean list = rest.startsWith("IN");
        if (list && !matching.isEmpty()) {
          continue;
        }
        bound = true;
        steps |= list && clause.equals(clauses.get(0));
        point |= rest.startsWith("= ") || rest.startsWith("IS ");
      }
      if (bound) {
        matching.add(key.text());
      }
      if (!point || steps) {
        break;
      }
    }
    return matching;
  }
}
