package dev.colonnade.sql;

import java.util.Set;
import java.util.regex.Pattern;

/**
 * Words that JSqlParser keeps for itself and the supported databases allow as names of tables, of
 * columns or of what stands for a table in a query.
 */
final class KeptWords {
  private static final Set<String> NAMES =
      Set.of(
          "absent",
          "csv",
          "current",
          "distinctrow",
          "errors",
          "excludes",
          "extend",
          "fbv",
          "file",
          "final",
          "force",
          "import",
          "includes",
          "map",
          "minus",
          "number",
          "output",
          "pivot",
          "preferring",
          "prewhere",
          "prior",
          "returns",
          "sample",
          "script",
          "semi",
          "settings",
          "statement",
          "unpivot",
          "use",
          "uuid",
          "verify");

  /** Those among them that are types as well. */
  private static final Set<String> TYPES = Set.of("uuid", "number", "map");

  /** Types in front of whose name's next part or operator the parser waits for a literal. */
  private static final Set<String> LITERAL_TYPES =
      Set.of(
          "bigint",
          "blob",
          "bool",
          "bpchar",
          "bytea",
          "decimal",
          "double",
          "float",
          "int",
          "integer",
          "long",
          "nchar",
          "numeric",
          "nvarchar",
          "precision",
          "real",
          "smallint",
          "timetz",
          "tinyint",
          "varbinary",
          "varchar",
          "varying");

  /** What follows a name of a column, or of a table or what stands for one. */
  private static final Pattern AFTER_NAME =
      Pattern.compile(
          "\\s*([,)=<>!.;+*/|-]|$|(from|and|or|is|in|not|like|ilike|between|asc|desc|as|order|group|limit"
              + "|where|then|end|join|inner|left|right|full|cross|on|set|having|union|fetch|offset)\\b)",
          Pattern.CASE_INSENSITIVE);

  private static final Pattern PART = Pattern.compile("\\s*\\.\\s*[\\p{L}_\"`\\[*]");

  private static final Pattern BEFORE_OPERAND =
      Pattern.compile(
          "(?s).*([=<>(,+*/|-]|\\b(select|distinct|where|and|or|on|by|when|then|else|not|between|having))");

  /**
   * Inside CONVERT, one of whose arguments is a type: the first (Transact-SQL reference, "CAST and
   * CONVERT") or the second (H2, HSQLDB and MySQL manuals, "CONVERT").
   */
  private static final Pattern IN_CONVERT =
      Pattern.compile("(?s).*\\bconvert\\s*\\((?:[^()]|\\([^()]*\\))*+");

  private KeptWords() {}

  /** True where what comes next is an operand: of a comparison, of a function, of a clause. */
  static boolean isBeforeOperand(String before) {
    return BEFORE_OPERAND.matcher(before).matches();
  }

  /**
   * True where a word is a name that the parser does not take for one.
   *
   * @param word the word, in lower case
   * @param before the text in front of it, in lower case, without blanks at its end
   * @param sql the text
   * @param end the offset behind the word
   */
  static boolean isName(String word, String before, String sql, int end) {
    if (LITERAL_TYPES.contains(word)) {
      return PART.matcher(sql).region(end, sql.length()).lookingAt()
          || (isAsName(sql, end)
              && isBeforeOperand(before)
              && !IN_CONVERT.matcher(before).matches());
    }
    boolean isType = TYPES.contains(word) && (before.endsWith("::") || before.endsWith(" as"));
    return NAMES.contains(word) && isAsName(sql, end) && !isType;
  }

  private static boolean isAsName(String sql, int end) {
    return AFTER_NAME.matcher(sql).region(end, sql.length()).lookingAt();
  }
}
