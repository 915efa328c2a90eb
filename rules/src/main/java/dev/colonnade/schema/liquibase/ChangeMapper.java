package dev.colonnade.schema.liquibase;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.RowsChanged;
import dev.colonnade.schema.change.SchemaChange;
import dev.colonnade.schema.sql.DdlReader;
import dev.colonnade.schema.sql.DdlResult;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import liquibase.Scope;
import liquibase.change.AbstractSQLChange;
import liquibase.change.Change;
import liquibase.change.ChangeFactory;
import liquibase.change.core.CreateProcedureChange;
import liquibase.change.core.ExecuteShellCommandChange;
import liquibase.change.core.LoadDataChange;
import liquibase.change.core.SQLFileChange;
import liquibase.change.core.StopChange;
import liquibase.changelog.ChangeSet;
import liquibase.database.Database;
import liquibase.database.DatabaseList;
import liquibase.database.core.SQLiteDatabase;
import liquibase.sql.Sql;
import liquibase.sql.visitor.SqlVisitor;
import liquibase.sqlgenerator.SqlGeneratorFactory;

/**
 * Reads one change of a change set as effects on the schema.
 *
 * <p>A change whose effect depends on the database is taken from the SQL that Liquibase would send
 * to it: then names, types, keys and column options are those that the database gets.
 */
final class ChangeMapper {
  /** Change types that touch no table, column, key or index. */
  private static final Set<String> WITHOUT_EFFECT =
      Set.of(
          "addDefaultValue",
          "alterSequence",
          "createFunction",
          "createTrigger",
          "dropDefaultValue",
          "dropProcedure",
          "empty",
          "output",
          "setTableRemarks",
          "tagDatabase",
          "update");

  /** Change types that restate a column in some databases and touch nothing in the others. */
  private static final Set<String> MOSTLY_WITHOUT_EFFECT = Set.of("setColumnRemarks");

  /** A comment that MySQL and MariaDB run. */
  private static final Pattern RUN_COMMENT = Pattern.compile("(?s)/\\*M?!.*?\\*/");

  /** A delimiter that no text has. */
  private static final String NOWHERE = "\u0000";

  private final Database database;
  private final RootsAccessor accessor;
  private final DdlReader ddl;
  private final LoadedRows rows;

  ChangeMapper(Database database, RootsAccessor accessor, DdlReader ddl) {
    this.database = database;
    this.accessor = accessor;
    this.ddl = ddl;
    this.rows = new LoadedRows(accessor);
  }

  DdlResult read(ChangeSet changeSet, Change change, SourceLocation at) {
    if (change instanceof UnreadChange unread) {
      return notRun(at, unread.reason());
    }
    if (change instanceof ExecuteShellCommandChange) {
      return notRun(at, "executeCommand is not run");
    }
    if (change instanceof CreateProcedureChange procedure) {
      return procedure(changeSet, procedure, at);
    }
    if (change instanceof StopChange) {
      return notUnderstood(at, "stop: an update would end here; read on");
    }
    if (change instanceof AbstractSQLChange sql) {
      return sql(changeSet, sql, at);
    }
    if (change instanceof LoadDataChange load) {
      return rows.read(load, changeSet.getChangeLog().getPhysicalFilePath(), at);
    }
    String type = type(change);
    Optional<SchemaChange> sequence = SequenceChanges.read(change, at);
    if (sequence.isPresent()) {
      return new DdlResult(List.of(sequence.get()), List.of());
    }
    if (WITHOUT_EFFECT.contains(type) && !(needsRealTables() && RebuildChanges.rebuilds(change))) {
      return new DdlResult(List.of(), List.of());
    }
    List<SqlVisitor> visitors = visitors(changeSet);
    if (!isModified(change, visitors)) {
      Optional<List<SchemaChange>> direct =
          needsRealTables() ? RebuildChanges.read(change, database, at) : Optional.empty();
      if (direct.isEmpty()) {
        direct = DirectChanges.read(change, database, at);
      }
      if (direct.isPresent()) {
        return new DdlResult(direct.get(), List.of());
      }
    }
    return generated(change, visitors, type, at);
  }

  private static String type(Change change) {
    return Scope.getCurrentScope()
        .getSingleton(ChangeFactory.class)
        .getChangeMetaData(change)
        .getName();
  }

  /** For SQLite, Liquibase rebuilds tables and so reads them first. */
  private boolean needsRealTables() {
    return database instanceof SQLiteDatabase;
  }

  private List<SqlVisitor> visitors(ChangeSet changeSet) {
    return changeSet.getSqlVisitors().stream()
        .filter(
            visitor -> DatabaseList.definitionMatches(visitor.getApplicableDbms(), database, true))
        .toList();
  }

  /**
   * True when a visitor changes what Liquibase sends. Statements that it can make only while it
   * looks at real tables are taken to stay as they are.
   */
  private boolean isModified(Change change, List<SqlVisitor> visitors) {
    if (visitors.isEmpty()) {
      return false;
    }
    try {
      for (Sql sql : SqlGeneratorFactory.getInstance().generateSql(change, database)) {
        String statement = sql.toSql();
        if (!statement.equals(modified(statement, visitors))) {
          return true;
        }
      }
    } catch (RuntimeException e) {
      return false;
    }
    return false;
  }

  private String modified(String statement, List<SqlVisitor> visitors) {
    String modified = statement;
    for (SqlVisitor visitor : visitors) {
      modified = modified == null ? null : visitor.modifySql(modified, database);
    }
    return modified;
  }

  private DdlResult generated(
      Change change, List<SqlVisitor> visitors, String type, SourceLocation at) {
    StringBuilder text = new StringBuilder();
    try {
      for (Sql sql : SqlGeneratorFactory.getInstance().generateSql(change, database)) {
        String statement = modified(sql.toSql(), visitors);
        if (statement != null) {
          text.append(statement).append(";\n");
        }
      }
    } catch (RuntimeException e) {
      return MOSTLY_WITHOUT_EFFECT.contains(type)
          ? new DdlResult(List.of(), List.of())
          : notUnderstood(at, type + ": " + reason(change, e));
    }
    return ddl.read(text.toString(), Optional.empty(), offset -> at);
  }

  /** What is wrong with the change itself, as an update would say; else what was thrown. */
  private String reason(Change change, RuntimeException thrown) {
    try {
      return change.validate(database).getErrorMessages().stream()
          .findFirst()
          .orElseGet(() -> firstLine(thrown));
    } catch (RuntimeException e) {
      return firstLine(thrown);
    }
  }

  private static String firstLine(RuntimeException e) {
    String message = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
    if (message.startsWith("Cannot find generators")) {
      return "Liquibase has no SQL for this database";
    }
    return message.lines().findFirst().orElse("").strip();
  }

  private DdlResult sql(ChangeSet changeSet, AbstractSQLChange change, SourceLocation at) {
    if (!DatabaseList.definitionMatches(change.getDbms(), database, true)) {
      return new DdlResult(List.of(), List.of());
    }
    SourceLocation start = at;
    String source = changeSet.getChangeLog().getPhysicalFilePath();
    if (change instanceof SQLFileChange file) {
      source = path(file, source);
      if (!accessor.exists(source)) {
        return notUnderstood(at, "sqlFile: cannot find " + file.getPath());
      }
      start = new SourceLocation(accessor.display(source), 1, 1, at.changeSet());
    }
    String text;
    try {
      text = change.getSql();
    } catch (RuntimeException e) {
      return notUnderstood(at, type(change) + ": " + firstLine(e));
    }
    if (text == null) {
      return new DdlResult(List.of(), List.of());
    }
    if (change.isStripComments()) {
      text = withoutComments(text);
    }
    String read = source;
    ReadSession.current().ifPresent(session -> session.takeUnplaced(read));
    List<SqlVisitor> visitors = visitors(changeSet);
    if (!visitors.isEmpty()) {
      return modified(change, visitors, text, new SqlPlaces(text, accessor.lines(source), start));
    }
    SqlPlaces places = new SqlPlaces(text, accessor.lines(source), start);
    return ddl.read(text, Optional.ofNullable(change.getEndDelimiter()), places);
  }

  /**
   * The text without comments that a database would run: with {@code stripComments}, Liquibase
   * takes them out first. Every other character keeps its place.
   */
  private static String withoutComments(String text) {
    return RUN_COMMENT
        .matcher(text)
        .replaceAll(comment -> comment.group().replaceAll("[^\\r\\n]", " "));
  }

  /** Every statement that Liquibase would send passes through the visitors. */
  private DdlResult modified(
      AbstractSQLChange change, List<SqlVisitor> visitors, String text, SqlPlaces places) {
    List<SchemaChange> changes = new ArrayList<>();
    List<NotUnderstood> notUnderstood = new ArrayList<>();
    int from = 0;
    for (Sql statement : SqlGeneratorFactory.getInstance().generateSql(change, database)) {
      int found = Math.max(from, text.indexOf(statement.toSql().strip(), from));
      from = found;
      String sql = modified(statement.toSql(), visitors);
      if (sql != null) {
        DdlResult result = ddl.read(sql, Optional.empty(), offset -> places.apply(found));
        changes.addAll(result.changes());
        notUnderstood.addAll(result.notUnderstood());
      }
    }
    return new DdlResult(changes, notUnderstood);
  }

  private static String path(SQLFileChange file, String changelog) {
    return LoadedRows.path(file.getPath(), file.isRelativeToChangelogFile(), changelog);
  }

  /** The text is read so that calls of it are known for what they do. */
  private DdlResult procedure(
      ChangeSet changeSet, CreateProcedureChange change, SourceLocation at) {
    Optional<String> text = Optional.ofNullable(change.getProcedureText());
    if (change.getPath() != null) {
      text =
          accessor.text(
              LoadedRows.path(
                  change.getPath(),
                  change.isRelativeToChangelogFile(),
                  changeSet.getChangeLog().getPhysicalFilePath()));
    }
    text.ifPresent(body -> ddl.read(body, Optional.of(NOWHERE), offset -> at));
    return new DdlResult(List.of(), List.of());
  }

  private static DdlResult notRun(SourceLocation at, String reason) {
    return new DdlResult(
        List.of(new RowsChanged(Optional.empty(), /* emptied= */ false, at)),
        List.of(new NotUnderstood(at, reason)));
  }

  private static DdlResult notUnderstood(SourceLocation at, String reason) {
    return new DdlResult(List.of(), List.of(new NotUnderstood(at, reason)));
  }
}
