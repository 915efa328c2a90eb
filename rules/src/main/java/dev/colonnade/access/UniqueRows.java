package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.dialect.UniqueRules;
import dev.colonnade.schema.Table;

/** Where unique keys leave nothing to sort or to collect, as far as the database sees it. */
record UniqueRows(Table table, Dialect dialect) {

  /** True where the scan finds one row at most. */
  boolean isOne(IndexEntry entry, KeyMatch match) {
    return match.unique()
        || (UniqueRules.of(dialect).wholeEntryIsRow().value()
            && match.values().size() == entry.search().size()
            && match.matched().stream().allMatch(bound -> bound.kind() == Kind.EQUALITY)
            && holdsRow(entry));
  }

  private boolean holdsRow(IndexEntry entry) {
    Appended appended = dialect.storage().appended().value();
    boolean byKey = appended == Appended.PRIMARY_KEY || appended == Appended.PRIMARY_OR_UNIQUE_KEY;
    return entry.search().stream().anyMatch(it -> IndexEntry.isRowNumber(it, table, dialect))
        || (byKey
            && table.hasUniqueKeyWithin(entry.search().stream().map(it -> it.value()).toList()));
  }

  /** True where no two rows of the result can be alike, so that DISTINCT has nothing to do. */
  boolean areDistinct(Demand demand, BlockTraits traits) {
    return traits.distinct()
        && !traits.joined()
        && UniqueRules.of(dialect).distinctIsMoot().value()
        && table.hasUniqueKeyWithin(demand.grouping());
  }
}
