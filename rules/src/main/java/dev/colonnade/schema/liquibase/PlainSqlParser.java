package dev.colonnade.schema.liquibase;

import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.exception.ChangeLogParseException;
import liquibase.parser.core.sql.SqlChangeLogParser;
import liquibase.resource.ResourceAccessor;

/** Liquibase's parser of plain SQL files, each of which is one change set. */
final class PlainSqlParser extends SqlChangeLogParser {

  @Override
  public boolean supports(String changeLogFile, ResourceAccessor resourceAccessor) {
    return ReadSession.current().isPresent() && super.supports(changeLogFile, resourceAccessor);
  }

  @Override
  public int getPriority() {
    return Parsers.PRIORITY;
  }

  @Override
  public DatabaseChangeLog parse(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    return ReadSession.current()
        .orElseThrow()
        .parse(path, () -> super.parse(path, parameters, resourceAccessor));
  }
}
