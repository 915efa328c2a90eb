package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.StatementRules;
import dev.colonnade.schema.change.SchemaFold;
import java.util.Set;
import liquibase.changelog.ChangeSet;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.database.Database;
import liquibase.exception.PreconditionErrorException;
import liquibase.exception.PreconditionFailedException;
import liquibase.precondition.Precondition;
import liquibase.precondition.PreconditionLogic;
import liquibase.precondition.core.AndPrecondition;
import liquibase.precondition.core.ChangeLogPropertyDefinedPrecondition;
import liquibase.precondition.core.ChangeSetExecutedPrecondition;
import liquibase.precondition.core.ColumnExistsPrecondition;
import liquibase.precondition.core.DBMSPrecondition;
import liquibase.precondition.core.ForeignKeyExistsPrecondition;
import liquibase.precondition.core.IndexExistsPrecondition;
import liquibase.precondition.core.NotPrecondition;
import liquibase.precondition.core.OrPrecondition;
import liquibase.precondition.core.PrimaryKeyExistsPrecondition;
import liquibase.precondition.core.RowCountPrecondition;
import liquibase.precondition.core.SequenceExistsPrecondition;
import liquibase.precondition.core.SqlPrecondition;
import liquibase.precondition.core.TableExistsPrecondition;
import liquibase.precondition.core.TableIsEmptyPrecondition;
import liquibase.precondition.core.UniqueConstraintExistsPrecondition;
import liquibase.precondition.core.ViewExistsPrecondition;

/** Decides preconditions by the schema derived so far, and by the rows that the changelog loads. */
final class Preconditions {
  private final Database database;
  private final Set<String> executed;
  private final ObjectNames names;
  private final KeyChecks keys;
  private final CountChecks counts;

  /**
   * Preconditions against a schema.
   *
   * @param executed identities of the change sets that have run
   */
  Preconditions(Dialect dialect, Database database, SchemaFold fold, Set<String> executed) {
    this.database = database;
    this.executed = executed;
    this.names = new ObjectNames(database, fold);
    this.keys = new KeyChecks(dialect, database, fold, names);
    this.counts = new CountChecks(fold, StatementRules.of(dialect).catalogCase().value());
  }

  Trilean holds(Precondition precondition, DatabaseChangeLog changeLog, ChangeSet changeSet) {
    if (precondition instanceof OrPrecondition or) {
      return any(or, changeLog, changeSet);
    }
    if (precondition instanceof NotPrecondition not) {
      // None of those inside may hold (NotPrecondition of Liquibase 4.33.0).
      return any(not, changeLog, changeSet).not();
    }
    if (precondition instanceof AndPrecondition and) {
      return all(and, changeLog, changeSet);
    }
    if (precondition instanceof DBMSPrecondition
        || precondition instanceof ChangeLogPropertyDefinedPrecondition) {
      return checked(precondition, changeLog, changeSet);
    }
    if (precondition instanceof ChangeSetExecutedPrecondition wanted) {
      return Trilean.of(executed.contains(identity(wanted, changeLog)));
    }
    if (precondition instanceof SqlPrecondition wanted) {
      return counts.check(wanted.getSql(), wanted.getExpectedResult());
    }
    if (precondition instanceof TableIsEmptyPrecondition wanted) {
      return counts.rows(wanted.getTableName(), 0);
    }
    if (precondition instanceof RowCountPrecondition wanted && wanted.getExpectedRows() != null) {
      return counts.rows(wanted.getTableName(), wanted.getExpectedRows());
    }
    return structural(precondition);
  }

  private Trilean all(PreconditionLogic logic, DatabaseChangeLog changeLog, ChangeSet changeSet) {
    Trilean result = Trilean.TRUE;
    for (Precondition nested : logic.getNestedPreconditions()) {
      result = result.and(holds(nested, changeLog, changeSet));
    }
    return result;
  }

  private Trilean any(PreconditionLogic logic, DatabaseChangeLog changeLog, ChangeSet changeSet) {
    Trilean result = Trilean.FALSE;
    for (Precondition nested : logic.getNestedPreconditions()) {
      result = result.or(holds(nested, changeLog, changeSet));
    }
    return result;
  }

  /** Lets Liquibase decide what needs no connection. */
  private Trilean checked(
      Precondition precondition, DatabaseChangeLog changeLog, ChangeSet changeSet) {
    try {
      precondition.check(database, changeLog, changeSet, null);
      return Trilean.TRUE;
    } catch (PreconditionFailedException e) {
      return Trilean.FALSE;
    } catch (PreconditionErrorException | RuntimeException e) {
      return Trilean.UNKNOWN;
    }
  }

  private static String identity(
      ChangeSetExecutedPrecondition wanted, DatabaseChangeLog changeLog) {
    String file =
        wanted.getChangeLogFile() == null
            ? changeLog.getLogicalFilePath()
            : wanted.getChangeLogFile();
    return identity(file, wanted.getAuthor(), wanted.getId());
  }

  /** The identity of a change set among all that run. */
  static String identity(String file, String author, String id) {
    return RootsAccessor.normalize(file) + "::" + id + "::" + author;
  }

  private Trilean structural(Precondition precondition) {
    if (precondition instanceof TableExistsPrecondition wanted) {
      return names.table(wanted.getCatalogName(), wanted.getSchemaName(), wanted.getTableName());
    }
    if (precondition instanceof ViewExistsPrecondition wanted) {
      return names.view(wanted.getCatalogName(), wanted.getSchemaName(), wanted.getViewName());
    }
    if (precondition instanceof ColumnExistsPrecondition wanted) {
      return names.column(wanted);
    }
    if (precondition instanceof IndexExistsPrecondition wanted) {
      return keys.index(wanted);
    }
    if (precondition instanceof ForeignKeyExistsPrecondition wanted) {
      return keys.foreignKey(wanted);
    }
    if (precondition instanceof PrimaryKeyExistsPrecondition wanted) {
      return keys.primaryKey(wanted);
    }
    if (precondition instanceof SequenceExistsPrecondition wanted) {
      return names.sequence(wanted.getSequenceName());
    }
    if (precondition instanceof UniqueConstraintExistsPrecondition wanted) {
      return keys.unique(wanted);
    }
    return Trilean.UNKNOWN;
  }
}
