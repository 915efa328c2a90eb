package dev.colonnade.planner;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestQuery.TestCondition;
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
 * column only). The counted entries, {@code scanCount}, say whether that is so.
 */
final class H2Planner extends EmbeddedPlanner {
  private static final Pattern COUNT = Pattern.compile("\\s*/\\* scanCount: (\\d+) \\*/");
  private static final Pattern POINT =
      Pattern.compile(" = | is null| in \\(|^\\w+\\.\\w+$|^not \\w+\\.\\w+$");

  private static final Pattern COMPUTED = Pattern.compile("\\w\\(| \\+ ");

  private static final Pattern SEVERAL = Pattern.compile(" in \\(.*,| or ");

  private static final Pattern LIST = Pattern.compile("^(\\w+ )?IN\\(");

  /** One entry behind each stretch is looked at; lists have four values at most. */
  private static final int STRETCHES = 5;

  private static final Pattern HANDED =
      Pattern.compile("(\\w+) (?:= |IS NOT DISTINCT FROM )\\?\\d+");

  private static final Pattern EQUALITY = Pattern.compile("(\\w+ = )(\\w+\\.\\w+)");

  private static final Pattern AND = Pattern.compile("\\s+AND\\s+");

  H2Planner() throws SQLException {
    super(
        Dialects.h2(),
        new Abilities(
            true,
            true,
            true,
            true,
            Optional.of("is not distinct from"),
            Optional.empty(),
            Optional.empty(),
            true,
            false,
            true,
            true,
            "limit %d offset 3",
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
    String used = "/* PUBLIC." + index.name().toUpperCase(Locale.ROOT);
    Matcher comment =
        Pattern.compile(
                "\"?\\b"
                    + table.name().toUpperCase(Locale.ROOT)
                    + "\"? USE INDEX [^/]*(?<comment>"
                    + Pattern.quote(used)
                    + "\\b)")
            .matcher(plan);
    if (!comment.find()) {
      return PlannerWord.notUsed(plan);
    }
    int start = comment.start("comment");
    int end = endOfComment(plan, start);
    String conditions = plan.substring(start + used.length(), end - "*/".length());
    Listed listed = prefix(conditions.replaceFirst("^: ", ""), query, index);
    OptionalLong counted = count(plan.substring(end));
    PlannerWord word = PlannerWord.seeks(counted(listed, query, counted), plan);
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
    boolean tells = !query.grouped() || query.rest().contains("group by");
    Optional<Boolean> inOrder =
        tells ? inOrder(plan, query.grouped(), query.sorted()) : Optional.empty();
    return inOrder.map(word::withOrdered).orElse(word);
  }

  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    return H2Plan.read(text("explain " + sql), indexes);
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    return grouped == sorted
        ? Optional.empty()
        : Optional.of(plan.contains(sorted ? "/* index sorted */" : "/* group sorted */"));
  }

  /** Where FROM names the table: the select list stands before it. */
  private static int firstUse(String plan, TestTable table) {
    return plan.indexOf("\"" + table.name().toUpperCase(Locale.ROOT) + "\" USE INDEX");
  }

  /** The place behind the comment that begins at a place; comments stand within each other. */
  static int endOfComment(String plan, int start) {
    int depth = 0;
    for (int i = start; i < plan.length() - 1; i++) {
      if (plan.startsWith("/*", i)) {
        depth++;
        i++;
      } else if (plan.startsWith("*/", i)) {
        depth--;
        i++;
        if (depth == 0) {
          return i + 1;
        }
      }
    }
    throw new IllegalStateException("a comment without end: " + plan);
  }

  /** The count that stands next, if it belongs to this table. */
  private static OptionalLong count(String text) {
    Matcher count = COUNT.matcher(text);
    return count.lookingAt()
        ? OptionalLong.of(Long.parseLong(count.group(1)))
        : OptionalLong.empty();
  }

  /** True for a condition that gives a scan a start or an end; a list behind one is not taken. */
  private static boolean hasEnd(String clause) {
    return !LIST.matcher(clause).find();
  }

  /** The conditions; AND within brackets separates none. */
  static List<String> clauses(String conditions) {
    List<String> clauses = new ArrayList<>();
    int depth = 0;
    int from = 0;
    for (int i = 0; i < conditions.length(); i++) {
      char c = conditions.charAt(i);
      depth += c == '(' ? 1 : c == ')' ? -1 : 0;
      Matcher and = AND.matcher(conditions).region(i, conditions.length());
      if (depth == 0 && and.lookingAt()) {
        clauses.add(conditions.substring(from, i).strip());
        from = and.end();
        i = from - 1;
      }
    }
    clauses.add(conditions.substring(from).strip());
    return clauses;
  }

  /**
   * As many of the listed columns as the counted entries bear out: with conditions on more of them
   * looked up, so many would not have been read. A list that another condition has displaced stays
   * in the plan.
   */
  private List<String> counted(Listed listed, TestQuery query, OptionalLong entries)
      throws SQLException {
    List<String> proven = listed.columns();
    if (entries.isEmpty() || query.tables().size() > 1 || query.firstRows()) {
      return proven;
    }
    while (!proven.isEmpty() && entries.getAsLong() > most(proven, listed, query)) {
      proven = proven.subList(0, proven.size() - 1);
    }
    return proven;
  }

  /**
   * Entries that are read at most where single values are looked up in these columns. A list is
   * looked up in the first column only; of NULL and a value, the value is.
   */
  private long most(List<String> columns, Listed listed, TestQuery query) throws SQLException {
    List<TestCondition> points =
        query.conditions().stream()
            .filter(it -> columns.containsAll(it.columns()))
            .filter(it -> POINT.matcher(it.sql()).find())
            .filter(it -> listed.byList() == SEVERAL.matcher(it.sql()).find())
            .filter(it -> it.columns().stream().noneMatch(listed.widened()::contains))
            .filter(it -> it.columns().size() == 1 || it.sql().contains(") in (("))
            .filter(it -> !COMPUTED.matcher(it.sql()).find())
            .filter(it -> !it.sql().endsWith(" is null") || isAlone(it, query))
            .toList();
    String table = query.tables().get(0);
    return Long.parseLong(text("select count(*) from " + table + TestQuery.where(points)))
        + STRETCHES;
  }

  private static boolean isAlone(TestCondition condition, TestQuery query) {
    return query.conditions().stream()
            .filter(it -> it.columns().equals(condition.columns()))
            .count()
        == 1;
  }

  /**
   * What the plan says that the scan seeks on.
   *
   * @param byList true where a list is looked up
   * @param widened descending columns that are searched from the one of several values to another
   */
  record Listed(List<String> columns, boolean byList, List<String> widened) {}

  private static Listed prefix(String conditions, TestQuery query, TestIndex index) {
    List<String> clauses = clauses(conditions);
    if (clauses.stream().anyMatch(it -> it.startsWith("IN(ROW "))
        && query.conditions().stream()
            .anyMatch(
                it ->
                    it.sql().contains(") in ((")
                        && it.columns().size() == index.key().size()
                        && it.columns().containsAll(index.keyTexts()))
        && clauses.stream()
            .takeWhile(it -> !it.startsWith("IN(ROW "))
            .noneMatch(H2Planner::hasEnd)) {
      return new Listed(index.keyTexts(), true, List.of());
    }
    return prefix(clauses.stream().map(it -> withConstant(it, query)).distinct().toList(), index);
  }

  /** The clause with the value in place of a column of another table that equals one. */
  private static String withConstant(String clause, TestQuery query) {
    Matcher handed = HANDED.matcher(clause);
    if (handed.matches()) {
      List<String> values = values(handed.group(1).toLowerCase(Locale.ROOT), query);
      return values.size() == 1 ? handed.group(1) + " = " + values.get(0) : clause;
    }
    Matcher equality = EQUALITY.matcher(clause);
    if (!equality.matches()) {
      return clause;
    }
    String other = equality.group(2).toLowerCase(Locale.ROOT) + " = ";
    return query.conditions().stream()
        .map(TestCondition::sql)
        .filter(it -> it.startsWith(other))
        .findFirst()
        .map(it -> equality.group(1) + it.substring(other.length()).toUpperCase(Locale.ROOT))
        .orElse(clause);
  }

  /** The values that a column of the only table is to equal, as plans write them. */
  private static List<String> values(String column, TestQuery query) {
    String name = query.tables().get(0) + "." + column;
    return query.conditions().stream()
        .map(TestCondition::sql)
        .map(
            sql ->
                sql.equals(name)
                    ? "TRUE"
                    : sql.equals("not " + name)
                        ? "FALSE"
                        : sql.startsWith(name + " = ")
                            ? sql.substring(name.length() + " = ".length())
                            : sql.endsWith(" = " + name)
                                ? sql.substring(0, sql.length() - name.length() - " = ".length())
                                : "")
        .filter(value -> !value.isEmpty() && !value.matches("[a-z]\\w*\\.\\w+"))
        .map(value -> value.startsWith("'") ? value : value.toUpperCase(Locale.ROOT))
        .distinct()
        .toList();
  }

  /** The leading columns of the key that conditions of a plan seek on. */
  static Listed prefix(List<String> clauses, TestIndex index) {
    List<String> matching = new ArrayList<>();
    List<String> widened = new ArrayList<>();
    boolean byList = false;
    for (TestKey key : index.key()) {
      String name = key.text().toUpperCase(Locale.ROOT);
      boolean point = false;
      int ends = 0;
      boolean bound = false;
      boolean stepped = false;
      for (String clause : clauses) {
        if (!clause.startsWith(name + " ")) {
          continue;
        }
        String rest = clause.substring(name.length() + 1);
        boolean list = rest.startsWith("IN");
        boolean late =
            list
                && clauses.stream().takeWhile(it -> !it.equals(clause)).anyMatch(H2Planner::hasEnd);
        if (late || (list && !matching.isEmpty())) {
          continue;
        }
        bound = true;
        ends += list || rest.equals("IS NULL") ? 0 : 1;
        stepped |= list;
        point |= rest.startsWith("= ") || rest.startsWith("IS ") || list;
      }
      if (bound) {
        matching.add(key.text());
      }
      byList |= stepped;
      boolean wide = key.descending() && !stepped && ends > 1;
      if (wide) {
        widened.add(key.text());
      }
      if (!point || stepped || wide) {
        break;
      }
    }
    return new Listed(matching, byList, widened);
  }
}
