package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.ChangeSet;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.exception.ChangeLogParseException;
import liquibase.parser.core.formattedsql.FormattedSqlChangeLogParser;
import liquibase.resource.ResourceAccessor;

/** Liquibase's parser of formatted SQL, with the line of each change set added. */
final class FormattedSqlParser extends FormattedSqlChangeLogParser {
  private static final Pattern CHANGE_SET =
      Pattern.compile("\\s*--\\s*changeset\\s+\\S.*", Pattern.CASE_INSENSITIVE);

  @Override
  public boolean supports(String changeLogFile, ResourceAccessor resourceAccessor) {
    return ReadSession.current().isPresent() && super.supports(changeLogFile, resourceAccessor);
  }

  @Override
  public int getPriority() {
    return Parsers.PRIORITY + 1;
  }

  @Override
  public DatabaseChangeLog parse(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    ReadSession session = ReadSession.current().orElseThrow();
    return session.parse(
        path,
        () -> {
          DatabaseChangeLog changeLog = super.parse(path, parameters, resourceAccessor);
          addMarks(changeLog, session.accessor().lines(path));
          return changeLog;
        });
  }

  private static void addMarks(DatabaseChangeLog changeLog, String[] lines) {
    List<Mark> marks = new ArrayList<>();
    List<String> headers = new ArrayList<>();
    for (int i = 0; i < lines.length; i++) {
      if (CHANGE_SET.matcher(lines[i]).matches()) {
        marks.add(new Mark(i + 1, 1));
        headers.add(lines[i]);
      }
    }
    int next = 0;
    for (ChangeSet changeSet : changeLog.getChangeSets()) {
      String identity = changeSet.getAuthor() + ":" + changeSet.getId();
      int found = next;
      while (found < marks.size() && !headers.get(found).contains(identity)) {
        found++;
      }
      // An identity with a parameter in it is not found as written: take the next one in order.
      int index = found < marks.size() ? found : next;
      if (index < marks.size()) {
        Mark mark = marks.get(index);
        changeSet.setAttribute(
            ChangeSetMarks.ATTRIBUTE, new ChangeSetMarks(mark, List.of(mark)).encoded());
        next = index + 1;
      }
    }
  }
}
