package dev.colonnade.schema.sql;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What can be told of statements that stand in strings. */
final class DynamicSql {
  private static final Pattern TABLES_OR_INDEXES =
      Pattern.compile(
          "(?is)\\b(?:create\\s+(?:or\\s+replace\\s+)?(?:unlogged\\s+|materialized\\s+|unique\\s+"
              + "|clustered\\s+|nonclustered\\s+|bitmap\\s+|fulltext\\s+|spatial\\s+)*"
              + "(?:table|index|view)"
              + "|alter\\s+(?:table|index)|drop\\s+(?:table|index|materialized)"
              + "|sp_rename|rename\\s+(?:table|index|column))\\b");

  private static final Pattern OTHER_CONSTRAINTS =
      Pattern.compile("(?i)\\b(?:default|check)_constraints\\b|\\bdefault_object_id\\b");

  private static final Pattern DROPS_CONSTRAINT =
      Pattern.compile("(?is).*\\balter\\s+table\\b.*\\bdrop\\s+constraint\\b.*");

  private static final Pattern DOLLAR_QUOTE = Pattern.compile("\\$\\w*\\$");

  private DynamicSql() {}

  /** True when text speaks of making, changing or dropping tables, indexes or views. */
  static boolean mayChangeTables(String text) {
    return TABLES_OR_INDEXES.matcher(text).find();
  }

  /**
   * True when one of the strings speaks of that. Default values and checks of SQL Server, whose
   * constraints are looked up before they are dropped, do not count.
   */
  static boolean mayChangeTables(List<SqlToken> tokens) {
    StringBuilder strings = new StringBuilder();
    boolean others = false;
    for (SqlToken token : tokens) {
      if (token.kind() == SqlToken.Kind.STRING) {
        strings.append(content(token.text())).append(' ');
      } else {
        others = others || OTHER_CONSTRAINTS.matcher(token.text()).find();
      }
    }
    String text = strings.toString();
    others = others || OTHER_CONSTRAINTS.matcher(text).find();
    if (others && DROPS_CONSTRAINT.matcher(text).matches()) {
      text = text.replaceAll("(?is)\\balter\\s+table\\b", "");
    }
    return mayChangeTables(text);
  }

  /** Where the text of a string starts behind its quotes. */
  static int contentStart(String literal) {
    Matcher dollar = DOLLAR_QUOTE.matcher(literal);
    return dollar.lookingAt() ? dollar.end() : Math.min(1, literal.length());
  }

  /** The text of a string without its quotes; doubled ones inside are single again. */
  static String content(String literal) {
    int start = contentStart(literal);
    if (literal.length() < 2 * start) {
      return "";
    }
    String inside = literal.substring(start, literal.length() - start);
    return start == 1 ? inside.replace("''", "'") : inside;
  }
}
