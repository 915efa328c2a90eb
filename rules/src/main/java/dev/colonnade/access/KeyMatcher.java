package dev.colonnade.access;

import dev.colonnade.access.Bound.Kind;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.ListRules;
import dev.colonnade.dialect.Matching.InListPosition;
import dev.colonnade.dialect.Matching.RowBound;
import dev.colonnade.dialect.ScanRules;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.Comparison;
import dev.colonnade.predicate.Predicate.Like;
import dev.colonnade.predicate.Predicate.RowComparison;
import dev.colonnade.predicate.Predicate.RowInList;
import dev.colonnade.predicate.Predicate.TruthTest;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Finds the matching columns: from the left, equalities, IS NULL and IN lists, then at most one
 * range at the end.
 *
 * <p>The rule is the same in every textbook and manual (for one: Db2 for z/OS, "Matching index
 * scan": "a range predicate is the last matching column"); where databases differ the {@link
 * Dialect} says how.
 */
final class KeyMatcher {
  private final Table table;
  private final Dialect dialect;
  private final ListBounds lists;

  KeyMatcher(Table table, Dialect dialect) {
    this.table = table;
    this.dialect = dialect;
    this.lists = new ListBounds(ListRules.of(dialect));
  }

  KeyMatch match(IndexEntry entry, Demand demand) {
    return switch (entry.index().method()) {
      case BTREE, BITMAP -> searched(entry, demand);
      case REVERSE, HASH -> equalityOnly(entry, demand);
      case FULLTEXT, SPATIAL, GIN, GIST, SPGIST, BRIN, SPECIAL ->
          KeyMatch.none(
              "comparisons cannot use a "
                  + entry.index().method().name().toLowerCase(Locale.ROOT)
                  + " index");
    };
  }

  private KeyMatch searched(IndexEntry entry, Demand demand) {
    KeyMatch match = lookupOrScan(entry, lists.usable(entry, demand));
    return match.matched().isEmpty() && lists.isDisplaced(entry, demand)
        ? KeyMatch.none(
            "the list on "
                + entry.search().get(0).value().render()
                + " bounds the scan only where it is evaluated before other conditions on the"
                + " index")
        : match;
  }

  private KeyMatch equalityOnly(IndexEntry entry, Demand demand) {
    List<Bound> matched = new ArrayList<>();
    List<Expression> values = new ArrayList<>();
    for (KeyColumn part : entry.index().keyColumns()) {
      Optional<Bound> equality =
          demand.boundsOn(part.value()).stream()
              .filter(bound -> bound.kind() == Kind.EQUALITY && isUsable(bound, part))
              .findFirst();
      if (equality.isEmpty()) {
        return KeyMatch.none(
            part.value().render() + " is not bound by equality, which this kind of index needs");
      }
      matched.add(equality.get());
      values.add(part.value());
    }
    return new KeyMatch(matched, values, entry.index().unique(), 1, "every key column is bound");
  }

  /**
   * Where a look-up with values of another table goes by equalities only, the longer one of that
   * and of the scan that takes the constants.
   */
  private KeyMatch lookupOrScan(IndexEntry entry, Demand demand) {
    KeyMatch all = ordered(entry, demand);
    boolean joins = all.matched().stream().anyMatch(Bound::fromJoin);
    boolean mixed =
        joins
            && all.matched().stream()
                .anyMatch(it -> it.kind() != Kind.EQUALITY && it.kind() != Kind.IS_NULL);
    if (!mixed || !dialect.matching().lookupByEqualities().value()) {
      return all;
    }
    KeyMatch lookup =
        ordered(
            entry,
            demand.withBounds(it -> it.kind() == Kind.EQUALITY || it.kind() == Kind.IS_NULL));
    KeyMatch scan = ordered(entry, demand.withBounds(it -> !it.fromJoin()));
    return lookup.values().size() >= scan.values().size() ? lookup : scan;
  }

  private KeyMatch ordered(IndexEntry entry, Demand demand) {
    List<Bound> matched = new ArrayList<>();
    List<Expression> values = new ArrayList<>();
    int declared = entry.index().keyColumns().size();
    boolean single = true;
    String remark = "every key column is bound";
    List<KeyColumn> key = entry.search();
    for (int position = 0; position < key.size(); position++) {
      KeyColumn part = key.get(position);
      Optional<Bound> bound = best(part, demand, position, matched);
      String column = part.value().render();
      if (bound.isEmpty()) {
        if (position < declared) {
          remark = notBound(part, demand, position);
        }
        break;
      }
      matched.add(bound.get());
      values.add(part.value());
      List<Expression> row = position == 0 ? lists.rowBehind(entry, bound.get()) : List.of();
      if (!row.isEmpty()) {
        row.forEach(value -> matched.add(bound.get()));
        values.addAll(row);
        single = false;
        break;
      }
      if (position < declared) {
        single &= bound.get().kind() == Kind.EQUALITY && part.prefixLength().isEmpty();
      }
      if (!bound.get().kind().isPoint()) {
        if (dialect.matching().rowComparison().value() == RowBound.ALL_COLUMNS) {
          extendByRow(key, position, bound.get(), matched, values);
        }
        remark = afterRange(key, position, declared, column, values.size());
        break;
      }
      boolean last =
          bound.get().kind() == Kind.IN_LIST
              && endsWithList(lists.continuesRow(key, position + 1, bound.get()));
      if (last || part.prefixLength().isPresent()) {
        remark = "nothing behind " + column + " bounds the scan";
        break;
      }
    }
    boolean unique = entry.index().unique() && single && values.size() >= declared;
    return new KeyMatch(matched, values, unique, 1, remark);
  }

  private String notBound(KeyColumn part, Demand demand, int position) {
    String column = part.value().render();
    Optional<Bound> strongest = demand.boundsOn(part.value()).stream().findFirst();
    if (strongest.isPresent()) {
      if (strongest.get().kind() == Kind.IN_LIST && position > 0) {
        return "the IN list on " + column + " only filters: it is not on the leading column";
      }
      return "the condition on " + column + " cannot use this key";
    }
    return position == 0 ? "leading column " + column + " is not bound" : column + " is not bound";
  }

  private static String afterRange(
      List<KeyColumn> key, int position, int declared, String column, int matching) {
    if (position + 1 >= declared || matching >= declared) {
      return "ends with the range on " + column;
    }
    return key.get(matching).value().render() + " stands behind the range on " + column;
  }

  private boolean listBounds(int position) {
    return switch (dialect.matching().inList().value()) {
      case ANY -> true;
      case LEADING, LEADING_ALONE, LEADING_LAST -> position == 0;
    };
  }

  private boolean endsWithList(boolean continued) {
    return switch (dialect.matching().inList().value()) {
      case ANY, LEADING -> false;
      case LEADING_ALONE -> !continued;
      case LEADING_LAST -> true;
    };
  }

  private Optional<Bound> best(KeyColumn part, Demand demand, int position, List<Bound> matched) {
    List<Bound> usable =
        demand.boundsOn(part.value()).stream()
            .filter(bound -> isUsable(bound, part) && boundsAt(position, bound, matched))
            .filter(bound -> !isJoinedRow(matched) || continuesRow(bound, matched))
            .toList();
    boolean toNull = !usable.isEmpty() && usable.get(0).kind() == Kind.IS_NULL;
    boolean rangeFirst =
        (part.descending() || toNull) && ScanRules.of(dialect).rangeDisplacesEquality().value();
    return rangeFirst ? widest(usable) : usable.stream().findFirst();
  }

  /** A range, or what lies between several values that the column is to equal, before all else. */
  private static Optional<Bound> widest(List<Bound> usable) {
    List<Bound> equal = usable.stream().filter(it -> it.kind() == Kind.EQUALITY).toList();
    Optional<Bound> between =
        equal.stream().map(KeyMatcher::sought).distinct().count() < 2
            ? usable.stream().findFirst()
            : Optional.of(
                new Bound(
                    equal.get(0).value(),
                    Kind.CLOSED_RANGE,
                    equal.stream().flatMap(it -> it.origins().stream()).toList(),
                    1,
                    equal.stream().anyMatch(Bound::fromJoin)));
    return usable.stream().filter(it -> isRange(it.kind())).findFirst().or(() -> between);
  }

  /** What an equality looks for, so that two wordings of one value are known as one. */
  private static String sought(Bound equality) {
    Predicate origin = equality.origins().get(0);
    if (origin instanceof TruthTest test) {
      return Boolean.toString(test.expected());
    }
    return origin instanceof Comparison comparison
        ? comparison.right().render().toLowerCase(Locale.ROOT)
        : origin.render();
  }

  private static boolean isRange(Kind kind) {
    return switch (kind) {
      case CLOSED_RANGE, OPEN_RANGE, LIKE_PREFIX -> true;
      case EQUALITY, IS_NULL, IN_LIST, IS_NOT_NULL -> false;
    };
  }

  /** True behind a list of rows that is joined like a table: nothing else is searched for. */
  private boolean isJoinedRow(List<Bound> matched) {
    return dialect.matching().inList().value() == InListPosition.LEADING_ALONE
        && !matched.isEmpty()
        && matched.get(matched.size() - 1).origins().get(0) instanceof RowInList;
  }

  /** Whether a bound of its kind can bound a scan in that position of the key. */
  private boolean boundsAt(int position, Bound bound, List<Bound> matched) {
    return switch (bound.kind()) {
      case IN_LIST -> listBounds(position) || continuesRow(bound, matched);
      case IS_NOT_NULL -> notNullBounds(position);
      case EQUALITY, IS_NULL, CLOSED_RANGE, OPEN_RANGE, LIKE_PREFIX -> true;
    };
  }

  private boolean notNullBounds(int position) {
    return switch (dialect.matching().isNotNull().value()) {
      case ANY -> true;
      case LEADING -> position == 0;
      case NONE -> false;
    };
  }

  /** A list of rows that is joined like a table binds the next column of the row as well. */
  private boolean continuesRow(Bound bound, List<Bound> matched) {
    return isJoinedRow(matched)
        && bound.origins().get(0) instanceof RowInList
        && matched.get(matched.size() - 1).origins().equals(bound.origins());
  }

  /**
   * A row comparison bounds as many key columns as it names in key order and one direction, up to
   * the row number (SQLite source, where.c, whereRangeVectorLen, from memory; observed on 3.54.1).
   */
  private void extendByRow(
      List<KeyColumn> key,
      int position,
      Bound bound,
      List<Bound> matched,
      List<Expression> values) {
    if (bound.origins().size() != 1 || !(bound.origins().get(0) instanceof RowComparison row)) {
      return;
    }
    for (int i = 1; i < row.left().size() && position + i < key.size(); i++) {
      KeyColumn part = key.get(position + i);
      if (IndexEntry.isRowNumber(part, table, dialect)
          || !part.value().equals(row.left().get(i))
          || part.descending() != key.get(position).descending()
          || part.operatorClass().isPresent()) {
        return;
      }
      matched.add(bound);
      values.add(part.value());
    }
  }

  /** Whether the order in which the key part is stored is the order that the condition means. */
  private boolean isUsable(Bound bound, KeyColumn part) {
    boolean patternOrder =
        part.operatorClass().map(name -> name.endsWith("pattern_ops")).orElse(false);
    if (!collationsAgree(bound, part)) {
      return false;
    }
    return switch (bound.kind()) {
      case EQUALITY, IS_NULL, IN_LIST, IS_NOT_NULL -> true;
      case CLOSED_RANGE, OPEN_RANGE -> !patternOrder;
      case LIKE_PREFIX ->
          bound.origins().stream()
              .allMatch(
                  origin ->
                      !(origin instanceof Like like) || prefixBounds(like, part, patternOrder));
    };
  }

  private boolean prefixBounds(Like like, KeyColumn part, boolean patternOrder) {
    String collation = collation(part).orElse("").toLowerCase(Locale.ROOT);
    boolean ignoresCase = collation.equals("nocase");
    if (like.wildcards() == Like.Wildcards.GLOB) {
      return !ignoresCase;
    }
    return switch (dialect.matching().likePrefix().value()) {
      case ALWAYS -> true;
      case BYTE_ORDER ->
          patternOrder
              || collation.equals("c")
              || collation.equals("posix")
              || collation.equals("ucs_basic");
      case CASE_INSENSITIVE_COLLATION -> ignoresCase;
    };
  }

  /** An explicit collation in the query must be the one that the key part is ordered by. */
  private boolean collationsAgree(Bound bound, KeyColumn part) {
    for (Predicate origin : bound.origins()) {
      if (origin instanceof Comparison comparison
          && comparison.right() instanceof Call call
          && call.name().startsWith("collate ")) {
        String wanted = call.name().substring("collate ".length()).strip();
        if (!collation(part).map(own -> own.equalsIgnoreCase(wanted)).orElse(false)) {
          return false;
        }
      }
    }
    return true;
  }

  private Optional<String> collation(KeyColumn part) {
    if (part.collation().isPresent()) {
      return part.collation();
    }
    return part.value() instanceof ColumnRef column
        ? table.column(column.column()).flatMap(Column::collation)
        : Optional.empty();
  }

  /** True when rows whose key is all NULL have no entry, and the query might want such rows. */
  boolean mayMissRows(IndexEntry entry, Demand demand, KeyMatch match) {
    if (dialect.features().storesAllNullKeys().value()
        || entry.index().method() == IndexMethod.BITMAP) {
      return false;
    }
    boolean rejectedByMatch =
        match.matched().stream().anyMatch(bound -> bound.kind() != Kind.IS_NULL);
    if (rejectedByMatch) {
      return false;
    }
    return entry.index().keyColumns().stream()
        .map(KeyColumn::value)
        .allMatch(
            value ->
                value.columns().stream().anyMatch(column -> table.isNullable(column.column()))
                    && demand.conditions().stream()
                        .noneMatch(condition -> Implication.rejectsNull(condition, value)));
  }
}
