package dev.colonnade.measure;

import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.measure.MeasuredDatabase.TableRead;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.Table;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * One query with what was predicted and what the planner says.
 *
 * @param plan as the database words it
 * @param reads the tables of the plan
 */
record MeasuredQuery(QueryAccess predicted, String plan, List<TableRead> reads) {
  /**
   * Tables that the planner reads through another index than predicted, or through none. Only
   * tables that it names are compared: an alias is looked up in the prediction.
   */
  List<String> differences() {
    List<String> differences = new ArrayList<>();
    List<TableAccess> left = new ArrayList<>(predicted.tables());
    for (TableRead read : reads) {
      Optional<TableAccess> same =
          left.stream().filter(access -> isNamed(access, read.table())).findFirst();
      if (same.isEmpty()) {
        continue;
      }
      TableAccess access = same.get();
      left.remove(access);
      String ours = access.chosen().index().map(it -> it.name().text()).orElse("no index");
      String theirs = read.index().orElse("no index");
      if (!isSame(access, read)) {
        differences.add(
            "table "
                + access.table().name().text()
                + ": predicted "
                + ours
                + ", the planner takes "
                + theirs);
      }
    }
    return differences;
  }

  private static boolean isNamed(TableAccess access, String name) {
    Identifier read = Identifier.of(name);
    return access.table().name().equals(read) || Identifier.of(access.use().alias()).equals(read);
  }

  private static boolean isSame(TableAccess access, TableRead read) {
    Optional<Index> chosen = access.chosen().index();
    if (chosen.isEmpty() && access.branches().isEmpty()) {
      return read.index().isEmpty();
    }
    if (read.index().isEmpty()) {
      return false;
    }
    String theirs = unqualified(read.index().get());
    if (chosen.isEmpty()) {
      return access.branches().stream()
          .flatMap(branch -> branch.index().stream())
          .anyMatch(index -> isNamed(access.table(), index, theirs));
    }
    return isNamed(access.table(), chosen.get(), theirs);
  }

  private static String unqualified(String name) {
    return name.substring(name.lastIndexOf('.') + 1);
  }

  /** Databases name the index of a primary key by themselves. */
  private static boolean isNamed(Table table, Index index, String name) {
    if (index.name().equals(Identifier.of(name))) {
      return true;
    }
    String lower = name.toLowerCase(Locale.ROOT);
    boolean keyName = lower.startsWith("primary") || lower.endsWith("_pkey");
    return index.origin() == IndexOrigin.PRIMARY_KEY
        && (keyName || table.index(Identifier.of(name)).isEmpty());
  }
}
