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
  public void addColumn(SchemaChange.AddColumn it) {
    result =
        new SchemaChange.AddColumn(id(it.table()), it.column(), it.ifNotExists(), it.location());
  }

  @Override
  public void dropColumn(SchemaChange.DropColumn it) {
    result =
        new SchemaChange.DropColumn(
            id(it.table()), it.column(), it.ifExists(), it.dropsIndexes(), it.location());
  }

  @Override
  public void renameColumn(SchemaChange.RenameColumn it) {
    result = new SchemaChange.RenameColumn(id(it.table()), it.from(), it.to(), it.location());
  }

  @Override
  public void modifyColumn(SchemaChange.ModifyColumn it) {
    result =
        new SchemaChange.ModifyColumn(
            id(it.table()), it.column(), it.type(), it.nullable(), it.location());
  }

  @Override
  public void setNullable(SchemaChange.SetNullable it) {
    result =
        new SchemaChange.SetNullable(id(it.table()), it.column(), it.nullable(), it.location());
  }

  @Override
  public void createIndex(SchemaChange.CreateIndex it) {
    result =
        new SchemaChange.CreateIndex(
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
  public void dropIndex(SchemaChange.DropIndex it) {
    result =
        new SchemaChange.DropIndex(
            it.table().map(this::id), it.name(), it.ifExists(), it.location());
  }

  @Override
  public void renameIndex(SchemaChange.RenameIndex it) {
    result =
        new SchemaChange.RenameIndex(
            it.table().map(this::id), it.from(), it.to(), it.ifExists(), it.location());
  }

  @Override
  public void addPrimaryKey(SchemaChange.AddPrimaryKey it) {
    result =
        new SchemaChange.AddPrimaryKey(
            id(it.table()),
            it.name(),
            it.keyColumns(),
            it.includedColumns(),
            it.usingIndex(),
            it.clustered(),
            it.location());
  }

  @Override
  public void addUniqueConstraint(SchemaChange.AddUniqueConstraint it) {
    result =
        new SchemaChange.AddUniqueConstraint(
            id(it.table()),
            it.name(),
            it.keyColumns(),
            it.includedColumns(),
            it.usingIndex(),
            it.clustered(),
            it.location());
  }

  @Override
  public void addForeignKey(SchemaChange.AddForeignKey it) {
    result =
        new SchemaChange.AddForeignKey(
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
  public void dropAllForeignKeys(SchemaChange.DropAllForeignKeys it) {
    result = new SchemaChange.DropAllForeignKeys(id(it.table()), it.location());
  }

  @Override
  public void renameConstraint(SchemaChange.RenameConstraint it) {
    result = new SchemaChange.RenameConstraint(id(it.table()), it.from(), it.to(), it.location());
  }

  @Override
  public void createView(SchemaChange.CreateView it) {
    result =
        new SchemaChange.CreateView(
            names.newView(it.view()), it.definition(), it.materialized(), it.location());
  }

  @Override
  public void dropView(SchemaChange.DropView it) {
    result = new SchemaChange.DropView(names.view(it.view()), it.ifExists(), it.location());
  }

  @Override
  public void renameView(SchemaChange.RenameView it) {
    result =
        new SchemaChange.RenameView(names.view(it.from()), it.to().unqualified(), it.location());
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
