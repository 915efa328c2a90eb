package dev.colonnade.measure;

import dev.colonnade.measure.PlannedRead.Bound;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Conditions in the text of a plan. */
final class PlanClauses {
  private static final Pattern AND = Pattern.compile("\\s+AND\\s+");
  private static final Pattern CONDITION =
      Pattern.compile(
          "(?<left>[\\w$\"]+)(?:::[\\w ]+)?\\s*(?<rest>(?:=|<|>|~|IN\\b|IS\\b|LIKE\\b).*)",
          Pattern.DOTALL | Pattern.CASE_INSENSITIVE);
  private static final Pattern TEXT = Pattern.compile("'(?:[^']|'')*'");
  private static final Pattern QUALIFIED =
      Pattern.compile(
          "(?<![\\w.\"$])\"?(?<alias>[A-Za-z_]\\w*)\"?\\.\"?[A-Za-z_]\\w*\"?(?!\\s*\\()");

  private PlanClauses() {}

  /** The conditions; empty where one of them is not a comparison of a single column. */
  static Optional<List<Bound>> bounds(String conditions) {
    List<Bound> bounds = new ArrayList<>();
    if (conditions.isBlank()) {
      return Optional.of(bounds);
    }
    for (String clause : clauses(bare(conditions))) {
      Optional<Bound> bound = bound(bare(clause));
      if (bound.isEmpty()) {
        return Optional.empty();
      }
      bounds.add(bound.get());
    }
    return Optional.of(bounds);
  }

  /** The tables whose columns are named. */
  static Set<String> tables(String conditions) {
    Set<String> tables = new LinkedHashSet<>();
    Matcher column = QUALIFIED.matcher(TEXT.matcher(conditions).replaceAll("''"));
    while (column.find()) {
      tables.add(column.group("alias"));
    }
    return tables;
  }

  private static Optional<Bound> bound(String clause) {
    Matcher parts = CONDITION.matcher(plainLeft(clause));
    if (!parts.matches()) {
      return Optional.empty();
    }
    String rest = parts.group("rest").toUpperCase(java.util.Locale.ROOT);
    boolean point =
        rest.startsWith("=") || rest.startsWith("IN") || rest.matches("(?s)IS (?!NOT ).*");
    return Optional.of(new Bound(parts.group("left").replace("\"", ""), point));
  }

  /** {@code (status)::text = ...}: the brackets around the left side are taken off. */
  private static String plainLeft(String clause) {
    if (!clause.startsWith("(")) {
      return clause;
    }
    int end = close(clause);
    return end < 0 ? clause : bare(clause.substring(0, end + 1)) + clause.substring(end + 1);
  }

  /** Without the brackets around all of it. */
  private static String bare(String text) {
    String plain = text.strip();
    while (plain.startsWith("(") && close(plain) == plain.length() - 1) {
      plain = plain.substring(1, plain.length() - 1).strip();
    }
    return plain;
  }

  /** The place of the bracket that closes the first one. */
  private static int close(String text) {
    int depth = 0;
    boolean quoted = false;
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      quoted ^= c == '\'';
      depth += quoted ? 0 : c == '(' ? 1 : c == ')' ? -1 : 0;
      if (depth == 0) {
        return i;
      }
    }
    return -1;
  }

  /** Taken apart at AND, not within brackets or texts. */
  private static List<String> clauses(String conditions) {
    List<String> clauses = new ArrayList<>();
    int depth = 0;
    boolean quoted = false;
    int from = 0;
    Matcher and = AND.matcher(conditions);
    for (int i = 0; i < conditions.length(); i++) {
      char c = conditions.charAt(i);
      quoted ^= c == '\'';
      depth += quoted ? 0 : c == '(' ? 1 : c == ')' ? -1 : 0;
      if (depth == 0 && !quoted && and.region(i, conditions.length()).lookingAt()) {
        clauses.add(conditions.substring(from, i));
        from = and.end();
        i = from - 1;
      }
    }
    clauses.add(conditions.substring(from));
    return clauses;
  }
}
