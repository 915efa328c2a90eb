package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.StatementRules;
import java.util.Map;
import java.util.Optional;
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

  /** Parameters that Liquibase itself gives the connection's schema or catalog as value. */
  private static final Pattern HOME =
      Pattern.compile(
          "\\$\\{(database\\.(?:default|liquibase)(?:Schema|Catalog)Name)}([\"`\\]]?\\.)?");

  private final ReadSession session;
  private final Optional<String> defaultSchema;
  private final Map<String, String> given;

  Parameters(Dialect dialect, Database database, ReadSession session, Map<String, String> given) {
    super(database);
    this.session = session;
    this.defaultSchema = StatementRules.of(dialect).defaultSchema().value();
    this.given = given;
    given.forEach(this::set);
  }

  @Override
  public String expandExpressions(String text, DatabaseChangeLog changeLog)
      throws UnknownChangeLogParameterException {
    String expanded = super.expandExpressions(atHome(text), changeLog);
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

  /** A name behind the default schema is a name without one. */
  private String atHome(String text) {
    if (text == null || !text.contains("${database.")) {
      return text;
    }
    return HOME.matcher(text)
        .replaceAll(
            home -> {
              String behind = home.group(2) == null ? "" : home.group(2);
              Optional<String> value = Optional.ofNullable(given.get(home.group(1)));
              if (value.isEmpty() && behind.equals(".")) {
                return "";
              }
              return Matcher.quoteReplacement(
                  value.or(() -> defaultSchema).map(it -> it + behind).orElse(home.group()));
            });
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
