package dev.colonnade.dialect;

import dev.colonnade.dialect.SchemaRules.ConstraintIndex;
import dev.colonnade.dialect.SchemaRules.DroppedColumn;
import dev.colonnade.dialect.SchemaRules.ForeignKeyIndex;
import dev.colonnade.dialect.SchemaRules.Naming;
import dev.colonnade.dialect.SchemaRules.PrimaryKeyStorage;
import dev.colonnade.dialect.SchemaRules.RepeatedKey;
import java.util.Map;

/** The {@link SchemaRules} of each supported database, each fact with its source. */
final class SchemaRulesByDatabase {
  private static final String MEMORY = "from memory";

  private static final SchemaRules POSTGRESQL =
      new SchemaRules(
          Fact.of(
              Naming.TABLE_AND_COLUMNS,
              "ChooseIndexName and makeObjectName in src/backend/commands/indexcmds.c, from memory;"
                  + " compared with an embedded server in the tests"),
          Fact.of(
              DroppedColumn.DROPS_INDEX,
              "https://www.postgresql.org/docs/18/sql-altertable.html: indexes and table"
                  + " constraints involving the column are dropped as well"),
          Fact.of(
              ForeignKeyIndex.NONE,
              "https://www.postgresql.org/docs/18/ddl-constraints.html: a foreign key does not"
                  + " create an index on the referencing columns"),
          Fact.of(
              ConstraintIndex.OWN,
              "https://www.postgresql.org/docs/18/sql-altertable.html: an existing index is taken"
                  + " with USING INDEX only"),
          Fact.of(
              RepeatedKey.MERGED_IN_STATEMENT,
              "transformIndexConstraints in src/backend/parser/parse_utilcmd.c, from memory;"
                  + " observed"),
          Fact.of(true, "common practice"),
          Fact.of(PrimaryKeyStorage.BESIDE, "tables are heaps; common practice"),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "index names live in the schema's one name space of relations"),
          Fact.of(
              false,
              "indexes stay as they are; compared in the tests where the database is at hand"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules MYSQL =
      new SchemaRules(
          Fact.of(
              Naming.FIRST_COLUMN,
              "https://dev.mysql.com/doc/refman/8.4/en/create-table.html: an unnamed index is named"
                  + " after its first column with an optional suffix; the primary key is PRIMARY"),
          Fact.of(
              DroppedColumn.LEAVES_INDEX,
              "https://dev.mysql.com/doc/refman/8.4/en/alter-table.html: dropped columns are"
                  + " removed from any index; the index goes with its last column"),
          Fact.of(
              ForeignKeyIndex.UNLESS_LED,
              "https://dev.mysql.com/doc/refman/8.4/en/create-table-foreign-keys.html: the columns"
                  + " must be the first columns of an index in the same order"),
          Fact.of(
              ConstraintIndex.OWN,
              "observed on MariaDB 11.4.5: a duplicate index only gives a warning"),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(
              PrimaryKeyStorage.CLUSTERED,
              "https://dev.mysql.com/doc/refman/8.4/en/innodb-index-types.html"),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(
              true,
              "https://dev.mysql.com/doc/refman/8.4/en/alter-table.html: attributes that are not"
                  + " repeated are lost"),
          Fact.of(
              true,
              "https://dev.mysql.com/doc/refman/8.4/en/create-table-foreign-keys.html: the index"
                  + " may be dropped silently when another one can serve the foreign key"),
          Fact.of(true, "observed on MariaDB 11.4.5: DROP FOREIGN KEY leaves the index"),
          Fact.of(true, "index names belong to their table; common practice"),
          Fact.of(
              false,
              "indexes stay as they are; compared in the tests where the database is at hand"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules SQLITE =
      new SchemaRules(
          Fact.of(
              Naming.NUMBERED,
              "https://www.sqlite.org/fileformat2.html#intschema: sqlite_autoindex_TABLE_N"),
          Fact.of(
              DroppedColumn.REFUSED,
              "https://www.sqlite.org/lang_altertable.html: fails when the column is indexed"),
          Fact.of(
              ForeignKeyIndex.NONE,
              "https://www.sqlite.org/foreignkeys.html: an index on the child key is recommended,"
                  + " none is made"),
          Fact.of(ConstraintIndex.OWN, "observed; an explicit index is never taken"),
          Fact.of(RepeatedKey.MERGED, "observed; an explicit index is never taken"),
          Fact.of(true, "common practice"),
          Fact.of(
              PrimaryKeyStorage.INTEGER_IS_ROW,
              "https://www.sqlite.org/lang_createtable.html#rowid"),
          Fact.of(
              false, "https://www.sqlite.org/lang_createtable.html: unless it is the row number"),
          Fact.of(false, MEMORY),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "index names live in the schema; common practice"),
          Fact.of(
              false,
              "indexes stay as they are; compared in the tests where the database is at hand"),
          Fact.of(true, "observed: the child's declaration is not touched"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules H2 =
      new SchemaRules(
          Fact.of(
              Naming.HASHED,
              "Schema.getUniqueName and AlterTableAddConstraint of H2, from memory; compared with"
                  + " an embedded database in the tests"),
          Fact.of(
              DroppedColumn.DROPS_SINGLE,
              "Table.dropMultipleColumnsConstraintsAndIndexes of H2, from memory; observed"),
          Fact.of(
              ForeignKeyIndex.UNLESS_SAME_COLUMNS,
              "org.h2.command.ddl.AlterTableAddConstraint.canUseIndex, read at h2database 6992cb93;"
                  + " observed"),
          Fact.of(
              ConstraintIndex.UNIQUE_TAKES_UNIQUE,
              "org.h2.command.ddl.AlterTableAddConstraint.createUniqueConstraint, read at"
                  + " h2database 6992cb93"),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(PrimaryKeyStorage.BESIDE, "observed: listed beside the table's other indexes"),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY + ": the constraint owns the index that it made"),
          Fact.of(false, "index names live in the schema; observed"),
          Fact.of(
              true,
              "AlterTableAlterColumn.copyData and Table.getChildren of H2, from memory; compared"
                  + " with an embedded database in the tests"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules HSQLDB =
      new SchemaRules(
          Fact.of(Naming.CONSTRAINT, "observed on 2.7.4; unnamed ones are SYS_CT_NUMBER"),
          Fact.of(DroppedColumn.DROPS_INDEX, "observed on 2.7.4"),
          Fact.of(
              ForeignKeyIndex.ALWAYS,
              "HyperSQL guide, Indexes and Query Speed: a foreign key creates an index"),
          Fact.of(ConstraintIndex.OWN, MEMORY),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(PrimaryKeyStorage.BESIDE, MEMORY),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(
              false,
              "indexes stay as they are; compared in the tests where the database is at hand"),
          Fact.of(false, MEMORY),
          Fact.of(true, "observed on 2.7.4"),
          Fact.of(true, "observed on 2.7.4"),
          Fact.of(true, "observed on 2.7.4"),
          Fact.of(true, "observed on 2.7.4"));

  private static final SchemaRules DERBY =
      new SchemaRules(
          Fact.of(Naming.UNFORESEEABLE, "observed: SQL followed by the time"),
          Fact.of(DroppedColumn.LEAVES_PLAIN_INDEX, "observed on 10.16.1.1"),
          Fact.of(
              ForeignKeyIndex.ALWAYS,
              "Derby Tuning Guide: foreign keys are backed by an index; observed"),
          Fact.of(ConstraintIndex.OWN, MEMORY + ": the storage may be shared, the entry is not"),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(false, "observed on 10.16.1.1: warning 01504"),
          Fact.of(PrimaryKeyStorage.BESIDE, MEMORY),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(
              false,
              "indexes stay as they are; compared in the tests where the database is at hand"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules ORACLE =
      new SchemaRules(
          Fact.of(
              Naming.CONSTRAINT,
              "Oracle Database SQL Language Reference 19c, constraint: the index has the"
                  + " constraint's name"),
          Fact.of(
              DroppedColumn.DROPS_INDEX,
              "Oracle Database SQL Language Reference 19c, ALTER TABLE, drop_column_clause: all"
                  + " indexes on the column are dropped"),
          Fact.of(ForeignKeyIndex.NONE, "Oracle Database Concepts 19c, ch. 3"),
          Fact.of(
              ConstraintIndex.ANY_LEADING,
              "Oracle Database SQL Language Reference 19c, constraint, USING INDEX: an existing"
                  + " index is used where possible"),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(
              PrimaryKeyStorage.BESIDE, "heap-organized unless said otherwise; common practice"),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "index names live in the schema; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules SQL_SERVER =
      new SchemaRules(
          Fact.of(
              Naming.CONSTRAINT,
              "https://learn.microsoft.com/sql/relational-databases/tables/create-unique-constraints:"
                  + " the index has the constraint's name"),
          Fact.of(
              DroppedColumn.REFUSED,
              "https://learn.microsoft.com/sql/t-sql/statements/alter-table-transact-sql: a column"
                  + " used in an index or constraint cannot be dropped"),
          Fact.of(ForeignKeyIndex.NONE, MEMORY),
          Fact.of(ConstraintIndex.OWN, MEMORY),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(
              PrimaryKeyStorage.CLUSTERED_BY_DEFAULT,
              "https://learn.microsoft.com/sql/relational-databases/sql-server-index-design-guide"),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(true, "index names belong to their table; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final SchemaRules DB2 =
      new SchemaRules(
          Fact.of(
              Naming.CONSTRAINT,
              "Db2 for Linux, UNIX, Windows, CREATE TABLE: the constraint's name may be used as the"
                  + " index's; from memory"),
          Fact.of(DroppedColumn.DROPS_INDEX, MEMORY),
          Fact.of(ForeignKeyIndex.NONE, MEMORY),
          Fact.of(
              ConstraintIndex.TAKES_UNIQUE,
              "Db2 for Linux, UNIX, Windows, ALTER TABLE: a matching unique index is taken; from"
                  + " memory"),
          Fact.of(RepeatedKey.KEPT, MEMORY),
          Fact.of(true, "common practice"),
          Fact.of(PrimaryKeyStorage.BESIDE, MEMORY),
          Fact.of(true, "SQL standard; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "no index is made for a foreign key"),
          Fact.of(false, "index names live in the schema; common practice"),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY),
          Fact.of(false, MEMORY));

  private static final Map<String, SchemaRules> BY_SHORT_NAME =
      Map.of(
          "postgresql", POSTGRESQL,
          "mysql", MYSQL,
          "mariadb", MYSQL,
          "sqlite", SQLITE,
          "h2", H2,
          "hsqldb", HSQLDB,
          "derby", DERBY,
          "oracle", ORACLE,
          "mssql", SQL_SERVER,
          "db2", DB2);

  private SchemaRulesByDatabase() {}

  static SchemaRules of(String shortName) {
    SchemaRules rules = BY_SHORT_NAME.get(shortName);
    if (rules == null) {
      throw new IllegalArgumentException("no schema rules for database " + shortName);
    }
    return rules;
  }
}
