package dev.colonnade.schema.liquibase;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.database.Database;
import liquibase.exception.UnknownChangeLogParameterException;

/**
 * Changelog parameters of which some may have no value here. Liquibase would leave those as they
 * are written, and no database would take the statement. They are read as if empty where they are
 * part of a name, and as a word of their own elsewhere, so that the rest can be read; an entry says
 * so.
 */
final class Parameters extends ChangeLogParameters {
  private static final Pattern UNKNOWN = Pattern.compile("\\$\\{([\\w.-]+)}");

  private static final Pattern STATEMENT =
      Pattern.compile("(?is)\\b(?:create|alter|drop|rename|insert|update|delete|select|where)\\b");

  private static final Pattern SPACE = Pattern.compile("\\s");

  private static final Pattern STRING = Pattern.compile("'(?:[^']|'')*'");

  private final ReadSession session;

  Parameters(Database database, ReadSession session) {
    super(database);
    this.session = session;
  }

  @Override
  public String expandExpressions(String text, DatabaseChangeLog changeLog)
      throws UnknownChangeLogParameterException {
    String expanded = super.expandExpressions(text, changeLog);
    if (expanded == null || !expanded.contains("${")) {
      return expanded;
    }
    Matcher unknown = UNKNOWN.matcher(expanded);
    StringBuilder read = new StringBuilder();
    int from = 0;
    while (unknown.find()) {
      read.append(expanded, from, unknown.start()).append(stand(expanded, unknown));
      from = unknown.end();
    }
    note(expanded, changeLog);
    return read.append(expanded, from, expanded.length()).toString();
  }

  private static String stand(String text, Matcher unknown) {
    boolean partOfName =
        (unknown.start() > 0 && isNamePart(text.charAt(unknown.start() - 1)))
            || (unknown.end() < text.length() && isNamePart(text.charAt(unknown.end())));
    return partOfName ? "" : unknown.group(1).replaceAll("\\W", "_");
  }

  private static boolean isNamePart(char c) {
    return Character.isLetterOrDigit(c) || c == '_';
  }

  /**
   * Texts in quotes, and values with spaces that are no statement, are data: they matter little.
   */
  private void note(String text, DatabaseChangeLog changeLog) {
    if (SPACE.matcher(text).find() && !STATEMENT.matcher(text).find()) {
      return;
    }
    Matcher unknown = UNKNOWN.matcher(STRING.matcher(text).replaceAll("''"));
    while (unknown.find()) {
      session.withoutValue(
          changeLog == null ? "" : changeLog.getPhysicalFilePath(), unknown.group(1));
    }
  }
}
