package dev.colonnade.query.mapper;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Which characters of a text belong to literals and comments, as the SQL standard has it: a doubled
 * quote stands for itself, and what has no end reaches to the end of the text.
 */
final class SqlParts {
  private static final String WILDCARDS = "('[%_]+'|\"[%_]+\")";

  private static final String PARAMETER = "(#\\{[^}]*})";

  /** A pattern's wildcards in front of a parameter, behind it, or both. */
  private static final Pattern BESIDE =
      Pattern.compile(
          WILDCARDS + "\\s*" + PARAMETER + "(?:\\s*" + WILDCARDS + ")?|" + PARAMETER + "\\s*"
              + WILDCARDS);

  private final String sql;
  private final BitSet inert = new BitSet();
  private final List<Integer> semicolons = new ArrayList<>();

  SqlParts(String sql) {
    this.sql = sql;
    int at = 0;
    while (at < sql.length()) {
      char c = sql.charAt(at);
      int end = at + 1;
      if (c == '\'') {
        end = endOf("'", at + 1);
      } else if (sql.startsWith("--", at)) {
        end = endOf("\n", at + 2);
      } else if (sql.startsWith("/*", at)) {
        end = endOf("*/", at + 2);
      }
      if (end > at + 1) {
        inert.set(at, end);
      } else if (c == '"') {
        end = endOf("\"", at + 1);
        // A name has no wildcard: MySQL quotes strings so, too.
        if (sql.substring(at, end).contains("%")) {
          inert.set(at, end);
        }
      } else if (sql.startsWith("#{", at) || sql.startsWith("${", at)) {
        end = endOf("}", at + 2);
      } else if (c == ';') {
        semicolons.add(at);
      }
      at = end;
    }
  }

  private int endOf(String sign, int from) {
    int found = sql.indexOf(sign, from);
    return found < 0 ? sql.length() : found + sign.length();
  }

  /**
   * The text with strings that only stand beside a parameter, {@code '%'#{name}'%'}, joined to it:
   * MySQL takes strings that follow each other for one (MySQL 8.0 manual, "String Literals").
   */
  static String joined(String sql) {
    return sql.contains("#{")
        ? BESIDE
            .matcher(sql)
            .replaceAll(
                match ->
                    Matcher.quoteReplacement(
                        "concat("
                            + IntStream.rangeClosed(1, 5)
                                .mapToObj(match::group)
                                .filter(Objects::nonNull)
                                .map(part -> part.replace('"', '\''))
                                .collect(Collectors.joining(", "))
                            + ")"))
        : sql;
  }

  /** Whether a character stands in a literal or comment. */
  boolean isInert(int at) {
    return inert.get(at);
  }

  /**
   * The statements between semicolons; a block of a procedural language is one. JDBC drivers run
   * several in one call where they are told to.
   */
  List<String> statements() {
    String start = sql.stripLeading().toLowerCase(Locale.ROOT);
    if (semicolons.isEmpty() || start.startsWith("begin") || start.startsWith("declare")) {
      return List.of(sql);
    }
    List<String> statements = new ArrayList<>();
    int from = 0;
    for (int end : semicolons) {
      statements.add(sql.substring(from, end).strip());
      from = end + 1;
    }
    statements.add(sql.substring(from).strip());
    statements.removeIf(String::isEmpty);
    return statements;
  }
}
