package dev.colonnade.dialect;

import static dev.colonnade.dialect.Sources.CAUTION;
import static dev.colonnade.dialect.Sources.MEMORY;

import dev.colonnade.dialect.IndexFeatures.Included;
import dev.colonnade.dialect.IndexFeatures.Partial;
import dev.colonnade.dialect.IndexFeatures.PredicateCover;
import dev.colonnade.dialect.Matching.Carried;
import dev.colonnade.dialect.Matching.InListPosition;
import dev.colonnade.dialect.Matching.LikePrefix;
import dev.colonnade.dialect.Matching.NotNullPosition;
import dev.colonnade.dialect.Matching.RowBound;
import dev.colonnade.dialect.Matching.Screening;
import dev.colonnade.dialect.Matching.SkipScan;
import dev.colonnade.dialect.Ordering.GroupDirection;
import dev.colonnade.dialect.Ordering.InListOrder;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.dialect.Storage.SharedEntries;

/** Microsoft SQL Server. */
final class SqlServer {
  private static final String GUIDE =
      "https://learn.microsoft.com/sql/relational-databases/sql-server-index-design-guide";
  private static final String CREATE_INDEX =
      "https://learn.microsoft.com/sql/t-sql/statements/create-index-transact-sql";

  private SqlServer() {}

  static Dialect at(DatabaseVersion version) {
    return new Dialect(
        "mssql", "SQL Server", version, storage(), features(version), matching(), ordering());
  }

  private static Storage storage() {
    return new Storage(
        Fact.of(8192, MEMORY),
        Fact.of(8096, "less a page header of 96, " + MEMORY),
        Fact.of(1.0, "fill factor 0 means full, " + MEMORY),
        Fact.of(1.0, "fill factor 0 means full, " + MEMORY),
        Fact.of(4, "status byte and NULL bitmap, " + MEMORY),
        Fact.of(2, "row offset, " + MEMORY),
        Fact.of(1, MEMORY),
        Fact.of(9, "row header 4, NULL bitmap 3, row offset 2, " + MEMORY),
        Fact.of(Appended.PRIMARY_KEY, "the clustering key, which is the primary key, " + GUIDE),
        Fact.of(true, "the primary key is clustered unless said otherwise, " + GUIDE),
        Fact.of(SharedEntries.NONE, "one row an entry, " + MEMORY),
        Fact.of(false, "one descent for each stretch, " + MEMORY));
  }

  private static IndexFeatures features(DatabaseVersion version) {
    return new IndexFeatures(
        Fact.of(Included.ANY, GUIDE),
        Fact.of(Partial.IMPLICATION, GUIDE),
        Fact.of(false, "through computed columns only, " + GUIDE),
        Fact.of(true, GUIDE),
        Fact.of(true, GUIDE),
        Fact.of(false, "no expression indexes, " + GUIDE),
        Fact.of(true, MEMORY),
        Fact.of(false, MEMORY),
        version.choose(
            Fact.of(32, "2016 and later, " + MEMORY),
            Fact.of(16, "before 2016, " + CREATE_INDEX),
            2016),
        version.choose(
            Fact.of(1700, "nonclustered; 900 clustered, " + CREATE_INDEX),
            Fact.of(900, "before 2016, " + CREATE_INDEX),
            2016),
        Fact.of(
            PredicateCover.ALL,
            "sql-server-index-design-guide: where the condition of the query equals the filter and"
                + " the column is not returned"));
  }

  private static Matching matching() {
    return new Matching(
        Fact.of(InListPosition.ANY, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(NotNullPosition.ANY, MEMORY),
        Fact.of(LikePrefix.ALWAYS, GUIDE),
        Fact.of(RowBound.NONE, "rows cannot be compared in this language, " + MEMORY),
        Fact.of(false, "rows cannot be compared in this language, " + MEMORY),
        Fact.of(SkipScan.NONE, MEMORY),
        Fact.of(true, "index union, " + MEMORY),
        Fact.of(true, "several ranges in one seek, " + MEMORY),
        Fact.of(Screening.ANY_PREDICATE, "residual predicate of a seek, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, "no bare boolean columns in this language, " + MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(Carried.VALUES, MEMORY),
        Fact.of(true, MEMORY));
  }

  private static Ordering ordering() {
    return new Ordering(
        Fact.of(true, "NULL is lowest, " + MEMORY),
        Fact.of(false, MEMORY),
        Fact.of(true, GUIDE),
        Fact.of(true, MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(InListOrder.LOST, CAUTION),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(GroupDirection.ANY, MEMORY),
        Fact.of(false, CAUTION),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY),
        Fact.of(true, MEMORY));
  }
}
