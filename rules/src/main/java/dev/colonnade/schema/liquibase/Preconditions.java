package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.StatementRules;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.change.SchemaFold;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
import liquibase.precondition.core.SqlPrecondition;
import liquibase.precondition.core.TableExistsPrecondition;
import liquibase.precondition.core.TableIsEmptyPrecondition;
import liquibase.precondition.core.UniqueConstraintExistsPrecondition;
import liquibase.precondition.core.ViewExistsPrecondition;
import liquibase.structure.core.Schema;

/** Decides preconditions by the schema derived so far, and by the rows that the changelog loads. */
final class Preconditions {
  private final Database database;
  private final SchemaFold fold;
  private final Set<String> executed;
  private final CountChecks counts;

  /**
   * Preconditions against a schema.
   *
   * @param executed identities of the change sets that have run
   */
  Preconditions(Dialect dialect, Database database, SchemaFold fold, Set<String> executed) {
    this.database = database;
    this.fold = fold;
    this.executed = executed;
    this.counts = new CountChecks(fold, StatementRules.of(dialect).catalogCase().value());
  }

  Trilean holds(Precondition precondition, DatabaseChangeLog changeLog, ChangeSet changeSet) {
    if (precondition instanceof OrPrecondition or) {
      return any(or, changeLog, changeSet);
    }
    if (precondition instanceof NotPrecondition not) {
      return all(not, changeLog, changeSet).not();
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
      return Trilean.of(
          table(schema(wanted.getCatalogName(), wanted.getSchemaName()), wanted.getTableName())
              .isPresent());
    }
    if (precondition instanceof ViewExistsPrecondition wanted) {
      return Trilean.of(
          fold.hasView(
              Identifier.in(
                  schema(wanted.getCatalogName(), wanted.getSchemaName()),
                  Identifier.of(wanted.getViewName()))));
    }
    if (precondition instanceof ColumnExistsPrecondition wanted) {
      Identifier column = Identifier.of(wanted.getColumnName());
      return Trilean.of(
          table(schema(wanted.getCatalogName(), wanted.getSchemaName()), wanted.getTableName())
              .flatMap(table -> table.column(column))
              .isPresent());
    }
    if (precondition instanceof IndexExistsPrecondition wanted) {
      return Trilean.of(indexExists(wanted));
    }
    if (precondition instanceof ForeignKeyExistsPrecondition wanted) {
      return Trilean.of(
          constraintExists(
              schema(wanted.getCatalogName(), wanted.getSchemaName()),
              wanted.getForeignKeyName(),
              wanted.getForeignKeyTableName()));
    }
    if (precondition instanceof PrimaryKeyExistsPrecondition wanted) {
      return Trilean.of(
          wanted.getTableName() == null
              ? constraintExists(Optional.empty(), wanted.getPrimaryKeyName(), null)
              : table(
                      schema(wanted.getCatalogName(), wanted.getSchemaName()),
                      wanted.getTableName())
                  .filter(table -> !table.primaryKey().isEmpty())
                  .isPresent());
    }
    if (precondition instanceof UniqueConstraintExistsPrecondition wanted) {
      return Trilean.of(uniqueExists(wanted));
    }
    return Trilean.UNKNOWN;
  }

  private Optional<Table> table(Optional<Identifier> schema, String written) {
    return written == null
        ? Optional.empty()
        : fold.table(Identifier.in(schema, Identifier.of(written)));
  }

  private Optional<Identifier> schema(String catalog, String schema) {
    return DirectChanges.optional(schema)
        .or(
            () ->
                database.supports(Schema.class)
                    ? Optional.empty()
                    : DirectChanges.optional(catalog));
  }

  private boolean constraintExists(Optional<Identifier> schema, String constraint, String table) {
    if (constraint == null) {
      return table(schema, table).filter(found -> !found.foreignKeys().isEmpty()).isPresent();
    }
    List<Identifier> owners = fold.tablesOfConstraint(Identifier.of(constraint));
    return table == null
        ? !owners.isEmpty()
        : table(schema, table).filter(found -> owners.contains(found.name())).isPresent();
  }

  private boolean indexExists(IndexExistsPrecondition wanted) {
    if (wanted.getIndexName() != null && wanted.getTableName() == null) {
      return fold.tableOfIndex(Identifier.of(wanted.getIndexName())).isPresent();
    }
    Optional<Table> table =
        table(schema(wanted.getCatalogName(), wanted.getSchemaName()), wanted.getTableName());
    return table.isPresent()
        && table.get().indexes().stream()
            .anyMatch(
                index ->
                    (wanted.getIndexName() == null
                            || index.name().equals(Identifier.of(wanted.getIndexName())))
                        && (wanted.getColumnNames() == null
                            || columns(index).equals(names(wanted.getColumnNames()))));
  }

  private boolean uniqueExists(UniqueConstraintExistsPrecondition wanted) {
    if (wanted.getConstraintName() != null
        && !constraintExists(Optional.empty(), wanted.getConstraintName(), wanted.getTableName())) {
      return false;
    }
    if (wanted.getColumnNames() == null) {
      return wanted.getConstraintName() != null;
    }
    return table(schema(wanted.getCatalogName(), wanted.getSchemaName()), wanted.getTableName())
        .stream()
        .flatMap(table -> table.indexes().stream())
        .anyMatch(index -> index.unique() && columns(index).equals(names(wanted.getColumnNames())));
  }

  private static List<Identifier> columns(Index index) {
    List<Identifier> columns = new ArrayList<>();
    for (KeyColumn key : index.keyColumns()) {
      key.column().ifPresent(columns::add);
    }
    return columns;
  }

  private static List<Identifier> names(String written) {
    List<Identifier> names = new ArrayList<>();
    for (String part : written.split(",", -1)) {
      if (!part.isBlank()) {
        names.add(Identifier.of(part));
      }
    }
    return names;
  }
}
