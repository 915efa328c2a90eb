package dev.colonnade.schema.liquibase;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.schema.change.SchemaFold;
import dev.colonnade.schema.sql.DdlReader;
import dev.colonnade.schema.sql.DdlResult;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import liquibase.Contexts;
import liquibase.LabelExpression;
import liquibase.change.Change;
import liquibase.changelog.ChangeSet;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.changelog.filter.ChangeSetFilter;
import liquibase.changelog.filter.ContextChangeSetFilter;
import liquibase.changelog.filter.DbmsChangeSetFilter;
import liquibase.changelog.filter.IgnoreChangeSetFilter;
import liquibase.changelog.filter.LabelChangeSetFilter;
import liquibase.database.Database;
import liquibase.precondition.Precondition;
import liquibase.precondition.core.PreconditionContainer;
import liquibase.precondition.core.PreconditionContainer.FailOption;

/** Goes through change sets in order, as an update of an empty database would. */
final class ChangeSetRunner {
  private final Dialect dialect;
  private final Database database;
  private final ReadSession session;
  private final PreconditionResults results;
  private final SchemaFold fold;
  private final ChangeMapper mapper;
  private final Set<String> executed = new HashSet<>();

  /** Those of the root that is being read. */
  private final Set<String> seen = new HashSet<>();

  private final List<NotUnderstood> notUnderstood = new ArrayList<>();
  private int total;
  private int applied;

  ChangeSetRunner(
      Dialect dialect, Database database, ReadSession session, PreconditionResults results) {
    this.results = results;
    this.dialect = dialect;
    this.database = database;
    this.session = session;
    this.fold = new SchemaFold(dialect);
    this.mapper = new ChangeMapper(database, session.accessor(), new DdlReader(dialect));
  }

  void run(DatabaseChangeLog changeLog, Contexts contexts, LabelExpression labels) {
    checkPreconditions(changeLog);
    List<ChangeSetFilter> filters =
        List.of(
            new ContextChangeSetFilter(contexts),
            new LabelChangeSetFilter(labels),
            new DbmsChangeSetFilter(database),
            new IgnoreChangeSetFilter());
    seen.clear();
    for (ChangeSet changeSet : changeLog.getChangeSets()) {
      total += changeSet.getChanges().size();
      if (filters.stream().allMatch(filter -> filter.accepts(changeSet).isAccepted())) {
        run(changeSet);
      }
    }
  }

  private void checkPreconditions(DatabaseChangeLog changeLog) {
    if (changeLog.getPreconditions() != null) {
      checkPreconditions(changeLog, changeLog.getPreconditions());
    }
  }

  /** Each changelog that was included has brought its own container along, inside the root's. */
  private void checkPreconditions(DatabaseChangeLog changeLog, PreconditionContainer container) {
    for (Precondition nested : container.getNestedPreconditions()) {
      if (nested instanceof PreconditionContainer included) {
        checkPreconditions(changeLog, included);
      } else if (container.getOnFail() != FailOption.WARN) {
        check(changeLog, nested);
      }
    }
  }

  private void check(DatabaseChangeLog changeLog, Precondition precondition) {
    String path = changeLog.getPhysicalFilePath();
    SourceLocation location = session.place(path, Mark.START);
    Trilean holds = preconditions().holds(precondition, changeLog, null);
    switch (holds == Trilean.UNKNOWN ? decided(results.of(path)) : holds) {
      case TRUE -> {}
      case FALSE ->
          note(location, "a precondition of the changelog fails: an update would stop; read on");
      case UNKNOWN ->
          note(
              location,
              "a precondition of the changelog cannot be decided here; taken to hold"
                  + PreconditionResults.advice(RootsAccessor.normalize(path)));
    }
  }

  private Preconditions preconditions() {
    return new Preconditions(dialect, database, fold, executed);
  }

  private void run(ChangeSet changeSet) {
    String identity =
        Preconditions.identity(changeSet.getFilePath(), changeSet.getAuthor(), changeSet.getId());
    ChangeSetMarks marks = ChangeSetMarks.of(changeSet);
    if (!seen.add(identity)) {
      note(
          location(changeSet, marks.changeSet()),
          "a change set before it has the same id, author and file: an update would stop; left"
              + " out");
      return;
    }
    if (executed.contains(identity) && !changeSet.shouldAlwaysRun()) {
      return;
    }
    if (!preconditionsHold(changeSet, identity, location(changeSet, marks.changeSet()))) {
      return;
    }
    executed.add(identity);
    int index = 0;
    for (Change change : changeSet.getChanges()) {
      SourceLocation location = location(changeSet, marks.change(index++));
      DdlResult result = mapper.read(changeSet, change, location);
      int before = fold.notUnderstoodCount();
      fold.applyAll(result.changes());
      notUnderstood.addAll(result.notUnderstood());
      if (result.notUnderstood().isEmpty() && fold.notUnderstoodCount() == before) {
        applied++;
      }
    }
  }

  /** True when the change set runs; otherwise it is left out, or taken as run where it says so. */
  private boolean preconditionsHold(ChangeSet changeSet, String identity, SourceLocation location) {
    PreconditionContainer container = changeSet.getPreconditions();
    if (container == null) {
      return true;
    }
    Trilean holds = preconditions().holds(container, changeSet.getChangeLog(), changeSet);
    switch (holds == Trilean.UNKNOWN ? decided(results.of(changeSet)) : holds) {
      case TRUE -> {
        return true;
      }
      case UNKNOWN -> {
        note(
            location,
            "a precondition cannot be decided here; taken to hold"
                + PreconditionResults.advice(PreconditionResults.key(changeSet)));
        return true;
      }
      case FALSE -> {
        return whenFailed(container, identity, location);
      }
    }
    return true;
  }

  private static Trilean decided(Optional<Boolean> result) {
    return result.map(Trilean::of).orElse(Trilean.UNKNOWN);
  }

  private boolean whenFailed(
      PreconditionContainer container, String identity, SourceLocation location) {
    switch (container.getOnFail()) {
      case WARN -> {
        return true;
      }
      case MARK_RAN -> {
        executed.add(identity);
        return false;
      }
      case CONTINUE -> {
        return false;
      }
      case HALT -> {
        note(
            location,
            "a precondition fails: an update would stop here; read on without the change set");
        return false;
      }
    }
    return true;
  }

  private SourceLocation location(ChangeSet changeSet, Mark mark) {
    return session
        .place(changeSet.getChangeLog().getPhysicalFilePath(), mark)
        .inChangeSet(PreconditionResults.key(changeSet));
  }

  private void note(SourceLocation location, String reason) {
    notUnderstood.add(new NotUnderstood(location, reason));
  }

  ChangelogResult result() {
    List<NotUnderstood> all = new ArrayList<>(session.notUnderstood());
    all.addAll(notUnderstood);
    all.addAll(results.unused());
    all.addAll(fold.notUnderstood());
    return new ChangelogResult(fold.schema(), total, applied, all, fold.rowsLoaded());
  }
}
