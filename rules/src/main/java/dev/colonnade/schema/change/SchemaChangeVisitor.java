package dev.colonnade.schema.change;

/** One method a kind of {@link SchemaChange}. */
public interface SchemaChangeVisitor {

  /** A table comes into being, with the constraints and indexes written inside it. */
  void createTable(SchemaChange.CreateTable change);

  /**
   * A table goes, and with it its indexes, its constraints and the foreign keys that refer to it.
   */
  void dropTable(SchemaChange.DropTable change);

  /** A table changes its name. */
  void renameTable(SchemaChange.RenameTable change);

  /** A table gets one more column, at its end. */
  void addColumn(ColumnChange.AddColumn change);

  /** A column goes; what happens to its indexes is the database's own rule. */
  void dropColumn(ColumnChange.DropColumn change);

  /** A column changes its name, wherever it is used. */
  void renameColumn(ColumnChange.RenameColumn change);

  /** A column gets another type. */
  void modifyColumn(ColumnChange.ModifyColumn change);

  /** A column may, or may no longer, hold NULL. */
  void setNullable(ColumnChange.SetNullable change);

  /** Somebody creates an index. */
  void createIndex(IndexChange.CreateIndex change);

  /** An index goes. */
  void dropIndex(IndexChange.DropIndex change);

  /** An index changes its name. */
  void renameIndex(IndexChange.RenameIndex change);

  /** A table gets a primary key. */
  void addPrimaryKey(ConstraintChange.AddPrimaryKey change);

  /** A table gets a unique constraint. */
  void addUniqueConstraint(ConstraintChange.AddUniqueConstraint change);

  /** A table gets a foreign key. */
  void addForeignKey(ConstraintChange.AddForeignKey change);

  /** A constraint goes, and with it the index that it owns. */
  void dropConstraint(DropConstraint change);

  /** Every foreign key of a table goes. */
  void dropAllForeignKeys(ConstraintChange.DropAllForeignKeys change);

  /** A constraint changes its name. */
  void renameConstraint(ConstraintChange.RenameConstraint change);

  /** A view comes into being. */
  void createView(ViewChange.CreateView change);

  /** A view goes. */
  void dropView(ViewChange.DropView change);

  /** A view changes its name. */
  void renameView(ViewChange.RenameView change);

  /** A unique constraint goes that is named by its columns. */
  void dropUniqueKey(DropUniqueKey change);

  /** A table takes what another one has. */
  void copiedTable(CopiedTable change);

  /** A table or materialized view has the columns of a query's result. */
  void queriedTable(QueriedTable change);

  /** The changelog itself puts rows into a table. */
  void rowsLoaded(SchemaChange.RowsLoaded change);

  /** Rows of a table go or come, so that the number counted so far does not stand. */
  void rowsChanged(RowsChanged change);

  /** Changes that happen when a table is there. */
  void whereTableExists(WhereTableExists change);

  /** A change that the table's partitions do not follow. */
  void tableAlone(TableAlone change);

  /** An index is built anew, with its keys reversed or not. */
  void reverseIndex(ReverseIndex change);

  /** A constraint is switched off or on. */
  void switchConstraint(SwitchConstraint change);

  /** A sequence comes, goes or gets another name. */
  void sequence(SequenceChange change);

  /** A table that goes with its connection. */
  void temporaryTable(TemporaryTable change);

  /** See {@link TableFromSnapshot}. */
  void tableFromSnapshot(TableFromSnapshot change);
}
