package dev.colonnade.schema.change;

import dev.colonnade.predicate.Identifier;

/** Writes a change anew with the names under which its tables are known. */
final class NamedChange implements SchemaChangeVisitor {
  private final TableNames names;
  private SchemaChange result;

  NamedChange(TableNames names) {
    this.names = names;
  }

  SchemaChange result() {
    return result;
  }

  private Identifier id(Identifier written) {
    return names.id(written);
  }

  @Override
  public void createTable(SchemaChange.CreateTable it) {
    result = it;
  }

  @Override
  public void dropTable(SchemaChange.DropTable it) {
    Identifier table = it.ifExists() ? names.certainId(it.table()) : id(it.table());
    result = new SchemaChange.DropTable(table, it.ifExists(), it.location());
  }

  @Override
  public void renameTable(SchemaChange.RenameTable it) {
    boolean stays = it.to().qualifier().equals(it.from().qualifier());
    Identifier to = stays ? it.to().unqualified() : it.to();
    result = new SchemaChange.RenameTable(id(it.from()), to, it.location());
  }

  @Override
  public void addColumn(ColumnChange.AddColumn it) {
    result =
        new ColumnChange.AddColumn(id(it.table()), it.column(), it.ifNotExists(), it.location());
  }

  @Override
  public void dropColumn(ColumnChange.DropColumn it) {
    result =
        new ColumnChange.DropColumn(
            id(it.table()), it.column(), it.ifExists(), it.dropsIndexes(), it.location());
  }

  @Override
  public void renameColumn(ColumnChange.RenameColumn it) {
    result = new ColumnChange.RenameColumn(id(it.table()), it.from(), it.to(), it.location());
  }

  @Override
  public void modifyColumn(ColumnChange.ModifyColumn it) {
    result =
        new ColumnChange.ModifyColumn(
            id(it.table()), it.column(), it.type(), it.nullable(), it.location());
  }

  @Override
  public void setNullable(ColumnChange.SetNullable it) {
    result =
        new ColumnChange.SetNullable(id(it.table()), it.column(), it.nullable(), it.location());
  }

  @Override
  public void createIndex(IndexChange.CreateIndex it) {
    result =
        new IndexChange.CreateIndex(
            it.name(),
            id(it.table()),
            it.unique(),
            it.keyColumns(),
            it.includedColumns(),
            it.predicate(),
            it.predicateText(),
            it.method(),
            it.clustered(),
            it.ifNotExists(),
            it.location());
  }

  @Override
  public void dropIndex(IndexChange.DropIndex it) {
    result =
        new IndexChange.DropIndex(
            it.table().map(this::id), it.name(), it.ifExists(), it.location());
  }

  @Override
  public void renameIndex(IndexChange.RenameIndex it) {
    result =
        new IndexChange.RenameIndex(
            it.table().map(this::id), it.from(), it.to(), it.ifExists(), it.location());
  }

  @Override
  public void addPrimaryKey(ConstraintChange.AddPrimaryKey it) {
    result =
        new ConstraintChange.AddPrimaryKey(
            id(it.table()),
            it.name(),
            it.keyColumns(),
            it.includedColumns(),
            it.usingIndex(),
            it.clustered(),
            it.location());
  }

  @Override
  public void addUniqueConstraint(ConstraintChange.AddUniqueConstraint it) {
    result =
        new ConstraintChange.AddUniqueConstraint(
            id(it.table()),
            it.name(),
            it.keyColumns(),
            it.includedColumns(),
            it.usingIndex(),
            it.clustered(),
            it.location());
  }

  @Override
  public void addForeignKey(ConstraintChange.AddForeignKey it) {
    result =
        new ConstraintChange.AddForeignKey(
            id(it.table()),
            it.name(),
            it.columns(),
            id(it.referencedTable()),
            it.referencedColumns(),
            it.location());
  }

  @Override
  public void dropConstraint(DropConstraint it) {
    result =
        new DropConstraint(
            id(it.table()),
            it.kind(),
            it.name(),
            it.ifExists(),
            it.cascade(),
            it.keepsIndex(),
            it.location());
  }

  @Override
  public void dropAllForeignKeys(ConstraintChange.DropAllForeignKeys it) {
    result = new ConstraintChange.DropAllForeignKeys(id(it.table()), it.location());
  }

  @Override
  public void renameConstraint(ConstraintChange.RenameConstraint it) {
    result =
        new ConstraintChange.RenameConstraint(id(it.table()), it.from(), it.to(), it.location());
  }

  @Override
  public void createView(ViewChange.CreateView it) {
    result =
        new ViewChange.CreateView(
            names.newView(it.view()), it.definition(), it.materialized(), it.location());
  }

  @Override
  public void dropView(ViewChange.DropView it) {
    result = new ViewChange.DropView(names.view(it.view()), it.ifExists(), it.location());
  }

  @Override
  public void renameView(ViewChange.RenameView it) {
    result = new ViewChange.RenameView(names.view(it.from()), it.to().unqualified(), it.location());
  }

  @Override
  public void reverseIndex(ReverseIndex it) {
    result = it;
  }

  @Override
  public void switchConstraint(SwitchConstraint it) {
    result =
        new SwitchConstraint(
            id(it.table()),
            it.kind(),
            it.name(),
            it.columns(),
            it.on(),
            it.cascade(),
            it.keepsIndex(),
            it.usingIndex(),
            it.location());
  }

  @Override
  public void dropUniqueKey(DropUniqueKey it) {
    result = new DropUniqueKey(id(it.table()), it.columns(), it.location());
  }

  @Override
  public void copiedTable(CopiedTable it) {
    result = new CopiedTable(id(it.table()), id(it.source()), it.what(), it.location());
  }

  @Override
  public void queriedTable(QueriedTable it) {
    result = new QueriedTable(id(it.table()), it.selected(), it.names(), it.location());
  }

  @Override
  public void rowsLoaded(SchemaChange.RowsLoaded it) {
    result = new SchemaChange.RowsLoaded(id(it.table()), it.rows(), it.location());
  }

  @Override
  public void rowsChanged(RowsChanged it) {
    result = new RowsChanged(it.table().map(this::id), it.emptied(), it.location());
  }

  @Override
  public void whereTableExists(WhereTableExists it) {
    result = new WhereTableExists(names.certainId(it.table()), it.changes(), it.location());
  }

  @Override
  public void tableAlone(TableAlone it) {
    it.change().accept(this);
    result = new TableAlone(result);
  }

  @Override
  public void sequence(SequenceChange it) {
    result = it;
  }

  @Override
  public void temporaryTable(TemporaryTable it) {
    result = it;
  }

  @Override
  public void tableFromSnapshot(TableFromSnapshot it) {
    result = new TableFromSnapshot(id(it.table()), it.counting(), it.required(), it.location());
  }
}
