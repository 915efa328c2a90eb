package dev.colonnade.dialect;

/**
 * What a database does to indexes by itself when tables, columns and constraints come and go.
 *
 * @param naming how it names what the statement leaves unnamed
 * @param droppedColumn what happens to an index when one of its columns is dropped
 * @param foreignKeyIndex whether a foreign key brings an index along
 * @param constraintIndex whether a primary key or unique constraint takes an index that is there
 * @param repeatedKey what becomes of a key that another key has already
 * @param repeatedIndexMade false when CREATE INDEX does nothing where an index has the same key
 * @param primaryKeyStorage how the primary key's index relates to the table
 * @param primaryKeyForbidsNull true when the columns of a primary key cannot hold NULL
 * @param modifyRedefines true when ALTER TABLE ... MODIFY states the column anew, so that it may
 *     hold NULL unless said otherwise; false when what is not said stays
 * @param implicitIndexGivesWay true when an index made for a foreign key vanishes as soon as
 *     another index can serve the key
 * @param implicitIndexOutlivesKey true when the index made for a foreign key stays when the key is
 *     dropped
 * @param indexNamesPerTable true when two tables may each have an index of one name
 * @param alterCopiesTable true when a column that comes, goes or gets a narrower or other type
 *     makes the database build the table anew: other indexes first, then each constraint in the
 *     order of their making, which takes an index that serves it if there is one by then
 * @param referencesOutliveParent true when foreign keys that refer to a dropped table or column
 *     stay as they are
 * @param constraintOfAnyTable true when ALTER TABLE ... DROP CONSTRAINT drops the constraint of
 *     that name even where it belongs to another table
 * @param droppedKeyFreesColumns true when the columns of a dropped primary key may hold NULL again,
 *     unless that was forbidden apart from the key
 * @param ownReferenceKeepsColumn true when a dropped column that refers to its own table loses its
 *     keys and indexes but stays
 * @param foreignKeyFollowsParent true when the index of a foreign key has its columns in the order
 *     of the parent's key
 */
public record SchemaRules(
    Fact<Naming> naming,
    Fact<DroppedColumn> droppedColumn,
    Fact<ForeignKeyIndex> foreignKeyIndex,
    Fact<ConstraintIndex> constraintIndex,
    Fact<RepeatedKey> repeatedKey,
    Fact<Boolean> repeatedIndexMade,
    Fact<PrimaryKeyStorage> primaryKeyStorage,
    Fact<Boolean> primaryKeyForbidsNull,
    Fact<Boolean> modifyRedefines,
    Fact<Boolean> implicitIndexGivesWay,
    Fact<Boolean> implicitIndexOutlivesKey,
    Fact<Boolean> indexNamesPerTable,
    Fact<Boolean> alterCopiesTable,
    Fact<Boolean> referencesOutliveParent,
    Fact<Boolean> constraintOfAnyTable,
    Fact<Boolean> droppedKeyFreesColumns,
    Fact<Boolean> ownReferenceKeepsColumn,
    Fact<Boolean> foreignKeyFollowsParent) {

  /** How a database names what the statement leaves unnamed, and the indexes of constraints. */
  public enum Naming {
    /** {@code t_pkey}, {@code t_a_b_key}, {@code t_a_idx}; a constraint's index has its name. */
    TABLE_AND_COLUMNS,
    /** {@code PRIMARY}; otherwise the first column, numbered from the second on: {@code a_2}. */
    FIRST_COLUMN,
    /** {@code sqlite_autoindex_t_1}, numbered within the table, whatever the constraint's name. */
    NUMBERED,
    /** {@code PRIMARY_KEY_2}, {@code NAME_INDEX_2}: the end is taken from a hash of the table. */
    HASHED,
    /** A constraint's index has its name; unnamed ones get a name that cannot be foreseen. */
    CONSTRAINT,
    /** A constraint's index gets a name that cannot be foreseen; the constraint's stands for it. */
    UNFORESEEABLE
  }

  /** What happens to an index when one of its columns is dropped. */
  public enum DroppedColumn {
    /** The index is dropped. */
    DROPS_INDEX,
    /** The column leaves the index; the index is dropped with its last column. */
    LEAVES_INDEX,
    /** The column leaves the index, but a unique index is dropped. */
    LEAVES_PLAIN_INDEX,
    /** An index on that column alone is dropped; a longer one forbids it. */
    DROPS_SINGLE,
    /** The statement fails while any index has the column. */
    REFUSED
  }

  /** Whether a foreign key brings an index along. */
  public enum ForeignKeyIndex {
    /** Never. */
    NONE,
    /** Unless an index leads with its columns in the same order. */
    UNLESS_LED,
    /** Unless an index has exactly its columns, in any order. */
    UNLESS_SAME_COLUMNS,
    /** Always, whatever indexes are there. */
    ALWAYS
  }

  /** Whether a primary key or unique constraint takes an index that is there. */
  public enum ConstraintIndex {
    /** It always makes its own. */
    OWN,
    /** A unique constraint takes a unique index on the same columns; a primary key never. */
    UNIQUE_TAKES_UNIQUE,
    /** It takes a unique index on the same columns. */
    TAKES_UNIQUE,
    /** It takes any index that leads with its columns. */
    ANY_LEADING
  }

  /** What becomes of a key that another key has already. */
  public enum RepeatedKey {
    /** It gets an index of its own. */
    KEPT,
    /** Inside one CREATE TABLE it is taken for the same key; a name given to either counts. */
    MERGED_IN_STATEMENT,
    /** It is always taken for the same key. */
    MERGED
  }

  /** How the primary key's index relates to the table. */
  public enum PrimaryKeyStorage {
    /** An index beside the table. */
    BESIDE,
    /** The table itself is stored in its order. */
    CLUSTERED,
    /** The table itself, unless said otherwise or something else is clustered already. */
    CLUSTERED_BY_DEFAULT,
    /**
     * For one column of type {@code INTEGER} there is no index at all: the table itself is stored
     * in its order.
     */
    INTEGER_IS_ROW
  }

  /** The rules of a database. */
  public static SchemaRules of(Dialect dialect) {
    return SchemaRulesByDatabase.of(dialect.shortName());
  }
}
