package dev.colonnade.classfile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What a builder of statements that is told clause by clause holds, {@code
 * org.apache.ibatis.jdbc.SQL} (MyBatis 3 reference, "The SQL Builder Class"). What it was told so
 * far is itself a text, one part a call, so that it is followed as other builders are.
 */
final class ClauseTexts {
  private static final Set<String> BUILDERS =
      Set.of("org/apache/ibatis/jdbc/SQL", "org/apache/ibatis/jdbc/AbstractSQL");

  private static final String CALL = "\u0002";
  private static final String ARGUMENT = "\u0003";

  /** Stands between arguments of one call. */
  static final String BETWEEN = ARGUMENT;

  /** Stands for a number that is not known. */
  static final String ANY_NUMBER = "#{rows}";

  /**
   * Methods that hand the builder to a lambda, perhaps, and how many parameters the lambda has; one
   * that is run for each of several elements is taken to be run once.
   */
  static final Map<String, Integer> APPLIED = Map.of("applyIf", 1, "applyForEach", 3);

  private static final String AND = ") AND (";
  private static final String OR = ") OR (";
  private static final Set<String> NUMBERS =
      Set.of("LIMIT", "OFFSET", "OFFSET_ROWS", "FETCH_FIRST_ROWS_ONLY");

  /** What a call adds to, where that does not bear its name. */
  private static final Map<String, String> CLAUSES =
      Map.of(
          "SELECT_DISTINCT", "SELECT",
          "INSERT_INTO", "FROM",
          "DELETE_FROM", "FROM",
          "UPDATE", "FROM");

  private static final Map<String, String> JOINS =
      Map.of(
          "JOIN", "JOIN",
          "INNER_JOIN", "INNER JOIN",
          "OUTER_JOIN", "OUTER JOIN",
          "LEFT_OUTER_JOIN", "LEFT OUTER JOIN",
          "RIGHT_OUTER_JOIN", "RIGHT OUTER JOIN");

  private static final Set<String> LISTS =
      Set.of(
          "SELECT",
          "FROM",
          "SET",
          "WHERE",
          "GROUP_BY",
          "HAVING",
          "ORDER_BY",
          "INTO_COLUMNS",
          "INTO_VALUES");

  private final Map<String, List<String>> parts = new HashMap<>();
  private final List<List<String>> rows = new ArrayList<>(List.of(new ArrayList<>()));
  private String verb = "";
  private boolean distinct;
  private boolean inRows;
  private String conditions = "WHERE";

  private ClauseTexts() {}

  /** True for the classes of the library itself. */
  static boolean isBuilder(String owner) {
    return BUILDERS.contains(owner);
  }

  /** True for calls whose effect is known. */
  static boolean isKnown(String method) {
    return LISTS.contains(method)
        || CLAUSES.containsKey(method)
        || JOINS.containsKey(method)
        || NUMBERS.contains(method)
        || Set.of("VALUES", "AND", "OR", "ADD_ROW").contains(method);
  }

  /** True for calls whose argument is a number of rows. */
  static boolean takesNumber(String method) {
    return NUMBERS.contains(method);
  }

  /** A call as a part of what a builder holds; its arguments follow. */
  static String call(String method) {
    return CALL + method;
  }

  /** What may be one argument of a call. */
  static Set<String> arguments(Set<String> texts) {
    return TextValues.each(texts, text -> ARGUMENT + text);
  }

  /** The statement that the calls make. */
  static String sql(String calls) {
    ClauseTexts clauses = new ClauseTexts();
    for (String call : calls.split(CALL, -1)) {
      if (!call.isEmpty()) {
        List<String> words = Arrays.asList(call.split(ARGUMENT, -1));
        clauses.add(words.get(0), words.subList(1, words.size()));
      }
    }
    return clauses.render();
  }

  private void add(String method, List<String> arguments) {
    switch (method) {
      case "AND" -> part(conditions).add(AND);
      case "OR" -> part(conditions).add(OR);
      case "ADD_ROW" -> rows.add(new ArrayList<>());
      case "VALUES" -> {
        part("INTO_COLUMNS").add(arguments.get(0));
        rows.get(rows.size() - 1).add(arguments.get(1));
      }
      case "INTO_VALUES" -> rows.get(rows.size() - 1).addAll(arguments);
      default -> {
        if (JOINS.containsKey(method)) {
          part(method).addAll(arguments);
          return;
        }
        if (takesNumber(method)) {
          inRows = method.endsWith("ROWS") || method.endsWith("ONLY");
          parts.put(method.startsWith("OFFSET") ? "OFFSET" : "LIMIT", List.copyOf(arguments));
          return;
        }
        boolean starts = method.equals("SELECT") || CLAUSES.containsKey(method);
        verb = starts ? method.replaceAll("_.*", "") : verb;
        distinct |= method.equals("SELECT_DISTINCT");
        conditions = method.equals("WHERE") || method.equals("HAVING") ? method : conditions;
        part(CLAUSES.getOrDefault(method, method)).addAll(arguments);
      }
    }
  }

  private List<String> part(String name) {
    return parts.computeIfAbsent(name, it -> new ArrayList<>());
  }

  private String render() {
    String where = clause("WHERE", "WHERE (", " AND ", ")");
    String result =
        switch (verb) {
          case "DELETE" -> clause("FROM", "DELETE FROM ", ", ", "") + where;
          case "INSERT" -> clause("FROM", "INSERT INTO ", ", ", "") + inserted();
          case "UPDATE" ->
              clause("FROM", "UPDATE ", ", ", "")
                  + joins()
                  + clause("SET", "SET ", ", ", "")
                  + where;
          default ->
              clause("SELECT", distinct ? "SELECT DISTINCT " : "SELECT ", ", ", "")
                  + clause("FROM", "FROM ", ", ", "")
                  + joins()
                  + where
                  + clause("GROUP_BY", "GROUP BY ", ", ", "")
                  + clause("HAVING", "HAVING (", " AND ", ")")
                  + clause("ORDER_BY", "ORDER BY ", ", ", "");
        };
    return (verb.equals("INSERT") ? result : result + limit()).strip();
  }

  private String joins() {
    StringBuilder result = new StringBuilder();
    for (String join :
        List.of("JOIN", "INNER_JOIN", "OUTER_JOIN", "LEFT_OUTER_JOIN", "RIGHT_OUTER_JOIN")) {
      String word = JOINS.get(join) + " ";
      result.append(clause(join, word, "\n" + word, ""));
    }
    return result.toString();
  }

  private String inserted() {
    StringBuilder result = new StringBuilder(clause("INTO_COLUMNS", "(", ", ", ")"));
    String before = "\nVALUES (";
    for (List<String> row : rows) {
      if (!row.isEmpty()) {
        result.append(before).append(String.join(", ", row)).append(")");
        before = ", (";
      }
    }
    return result.toString();
  }

  private String limit() {
    return inRows
        ? clause("OFFSET", "OFFSET ", "", " ROWS")
            + clause("LIMIT", "FETCH FIRST ", "", " ROWS ONLY")
        : clause("LIMIT", "LIMIT ", "", "") + clause("OFFSET", "OFFSET ", "", "");
  }

  /** A clause in a line of its own; nothing where it has no part. */
  private String clause(String name, String before, String between, String after) {
    List<String> all = parts.getOrDefault(name, List.of());
    if (all.isEmpty()) {
      return "";
    }
    StringBuilder result = new StringBuilder("\n").append(before);
    boolean first = true;
    for (String part : all) {
      boolean word = part.equals(AND) || part.equals(OR);
      result.append(first || word ? "" : between).append(part);
      first = word;
    }
    return result.append(after).toString();
  }
}
