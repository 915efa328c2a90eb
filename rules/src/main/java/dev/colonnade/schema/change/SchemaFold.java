package dev.colonnade.schema.change;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.SchemaRules;
import dev.colonnade.dialect.StatementRules;
import dev.colonnade.dialect.StatementRules.QueriedNotNull;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.TreeMap;

/**
 * Turns a sequence of changes into the schema that the database will have: the tables and indexes
 * that are written down, and the indexes that the database makes, renames and drops by itself.
 *
 * <p>A change that does not fit what came before it (an index on an unknown table, a column dropped
 * twice) leaves the schema as it is and becomes an entry in {@link #notUnderstood}. Not safe for
 * use by several threads.
 */
public final class SchemaFold {
  private final FoldState state;
  private final TableNames names;
  private final SchemaChangeVisitor dispatcher;

  /** Starts with no tables. */
  public SchemaFold(Dialect dialect) {
    StatementRules statements = StatementRules.of(dialect);
    this.state = new FoldState(statements.defaultSchema().value());
    this.names = new TableNames(state);
    SchemaRules rules = SchemaRules.of(dialect);
    KeyFold keys = new KeyFold(state, rules);
    dispatcher =
        new Dispatcher(
            new TableFold(state, rules, keys),
            keys,
            new ForeignKeyFold(state, rules, keys),
            new IndexFold(state, rules, keys, statements.varcharIsText().value()),
            new SnapshotFold(state, rules, keys),
            statements.queriedNotNull().value());
  }

  /** Applies one more change. */
  public SchemaFold apply(SchemaChange written) {
    SchemaChange change = names.resolved(written);
    List<SchemaChange> following = Partitions.following(state, change);
    change.accept(dispatcher);
    following.forEach(this::apply);
    return this;
  }

  /** Applies changes in order. */
  public SchemaFold applyAll(Iterable<? extends SchemaChange> changes) {
    changes.forEach(this::apply);
    return this;
  }

  /** The schema as it stands now. */
  public Schema schema() {
    return new Schema(
        state.tables.values().stream().map(TableState::toTable).toList(), state.views.values());
  }

  /** Changes that did not fit, in the order in which they came. */
  public List<NotUnderstood> notUnderstood() {
    return List.copyOf(state.notUnderstood);
  }

  /** How many changes did not fit. */
  public int notUnderstoodCount() {
    return state.notUnderstood.size();
  }

  /** The table of that name, written with or without its schema, as it stands now. */
  public Optional<Table> table(Identifier name) {
    return names.certain(name).map(TableState::toTable);
  }

  /** The name of the view of that name, as it was made; nothing where there is none now. */
  public Optional<Identifier> viewName(Identifier name) {
    return Optional.ofNullable(state.views.get(names.view(name)))
        .map(view -> view.name().unqualified());
  }

  /** True when the changes have made a sequence of that name. */
  public boolean hasSequence(Identifier name) {
    return state.sequences.contains(name.unqualified());
  }

  /** The table that has an index of that name now. */
  public Optional<Identifier> tableOfIndex(Identifier index) {
    return state.tableOfIndex(Optional.empty(), index).map(TableState::id);
  }

  /** The tables that have a constraint of that name now. */
  public List<Identifier> tablesOfConstraint(Identifier constraint) {
    return state.constraints.tablesOf(constraint).stream().map(TableState::id).toList();
  }

  /** The keys of a table, as they stand now; none where there is no such table. */
  public List<TableKey> keys(Identifier table) {
    return names.certain(table).map(TableState::constraints).orElse(List.of()).stream()
        .map(key -> new TableKey(key.kind(), key.name(), key.columns()))
        .toList();
  }

  /** How many rows the changes have put into each table, where they have put any. */
  public Map<Identifier, Long> rowsLoaded() {
    Map<Identifier, Long> rows = new TreeMap<>();
    state.tables.forEach(
        (name, table) -> {
          if (table.rows() > 0 && table.rowsKnown()) {
            rows.put(name, table.rows());
          }
        });
    return rows;
  }

  /** How many rows a table has after the changes; nothing where that is not certain. */
  public OptionalLong rows(Identifier name) {
    TableState table = names.certain(name).orElse(null);
    return table != null && table.rowsKnown() && state.rowsCertain
        ? OptionalLong.of(table.rows())
        : OptionalLong.empty();
  }

  private final class Dispatcher implements SchemaChangeVisitor {
    private final TableFold tables;
    private final KeyFold keys;
    private final ForeignKeyFold foreignKeys;
    private final IndexFold indexes;
    private final SnapshotFold snapshots;
    private final CopyFold copies;
    private final SwitchFold switches;

    Dispatcher(
        TableFold tables,
        KeyFold keys,
        ForeignKeyFold foreignKeys,
        IndexFold indexes,
        SnapshotFold snapshots,
        QueriedNotNull notNull) {
      this.copies = new CopyFold(state, this, notNull);
      this.tables = tables;
      this.keys = keys;
      this.foreignKeys = foreignKeys;
      this.indexes = indexes;
      this.snapshots = snapshots;
      this.switches = new SwitchFold(state, keys, foreignKeys, indexes);
    }

    @Override
    public void createTable(SchemaChange.CreateTable change) {
      if (tables.create(change)) {
        applyAll(tables.distinctKeys(change.parts()));
      }
    }

    @Override
    public void dropTable(SchemaChange.DropTable change) {
      tables.drop(change);
    }

    @Override
    public void renameTable(SchemaChange.RenameTable change) {
      if (!state.tables.containsKey(change.from())
          && state.sequences.remove(change.from().unqualified())) {
        // Some databases rename sequences by the same statement.
        state.sequences.add(change.to().unqualified());
        return;
      }
      tables.rename(change);
    }

    @Override
    public void addColumn(ColumnChange.AddColumn change) {
      tables.addColumn(change);
    }

    @Override
    public void dropColumn(ColumnChange.DropColumn change) {
      tables.dropColumn(change);
    }

    @Override
    public void renameColumn(ColumnChange.RenameColumn change) {
      tables.renameColumn(change);
    }

    @Override
    public void modifyColumn(ColumnChange.ModifyColumn change) {
      tables.modifyColumn(change);
    }

    @Override
    public void setNullable(ColumnChange.SetNullable change) {
      tables.setNullable(change);
    }

    @Override
    public void createIndex(IndexChange.CreateIndex change) {
      indexes.create(change);
    }

    @Override
    public void dropIndex(IndexChange.DropIndex change) {
      indexes.drop(change);
    }

    @Override
    public void renameIndex(IndexChange.RenameIndex change) {
      indexes.rename(change);
    }

    @Override
    public void addPrimaryKey(ConstraintChange.AddPrimaryKey change) {
      keys.add(change);
    }

    @Override
    public void addUniqueConstraint(ConstraintChange.AddUniqueConstraint change) {
      keys.add(change);
    }

    @Override
    public void addForeignKey(ConstraintChange.AddForeignKey change) {
      foreignKeys.add(change);
    }

    @Override
    public void dropConstraint(DropConstraint change) {
      indexes.drop(change);
    }

    @Override
    public void dropAllForeignKeys(ConstraintChange.DropAllForeignKeys change) {
      indexes.drop(change);
    }

    @Override
    public void renameConstraint(ConstraintChange.RenameConstraint change) {
      indexes.rename(change);
    }

    @Override
    public void createView(ViewChange.CreateView change) {
      tables.createView(change);
    }

    @Override
    public void dropView(ViewChange.DropView change) {
      tables.dropView(change);
    }

    @Override
    public void renameView(ViewChange.RenameView change) {
      tables.renameView(change);
    }

    @Override
    public void reverseIndex(ReverseIndex change) {
      indexes.reverse(change);
    }

    @Override
    public void switchConstraint(SwitchConstraint change) {
      switches.apply(change);
    }

    @Override
    public void dropUniqueKey(DropUniqueKey change) {
      indexes.drop(change);
    }

    @Override
    public void tableFromSnapshot(TableFromSnapshot change) {
      snapshots.rebuild(change);
    }

    @Override
    public void copiedTable(CopiedTable change) {
      copies.copy(change);
    }

    @Override
    public void queriedTable(QueriedTable change) {
      copies.query(change);
    }

    @Override
    public void rowsLoaded(SchemaChange.RowsLoaded change) {
      TableState table = state.tables.get(change.table());
      if (table != null) {
        table.addRows(change.rows());
      }
    }

    @Override
    public void whereTableExists(WhereTableExists change) {
      if (state.tables.containsKey(change.table())) {
        applyAll(change.changes());
      }
    }

    @Override
    public void tableAlone(TableAlone change) {
      change.change().accept(this);
    }

    @Override
    public void sequence(SequenceChange change) {
      change.gone().map(Identifier::unqualified).ifPresent(state.sequences::remove);
      change.made().map(Identifier::unqualified).ifPresent(state.sequences::add);
    }

    @Override
    public void temporaryTable(TemporaryTable change) {
      state.temporary.add(change.table().unqualified());
    }

    @Override
    public void rowsChanged(RowsChanged change) {
      if (change.table().isEmpty()) {
        state.rowsCertain = false;
        return;
      }
      TableState table = state.tables.get(change.table().get());
      if (table != null) {
        table.forgetRows(!change.emptied());
      }
    }
  }
}
