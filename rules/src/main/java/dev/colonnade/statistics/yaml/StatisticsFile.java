package dev.colonnade.statistics.yaml;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableStatistics;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * A statistics file as read.
 *
 * @param statistics what it states; statements that were not understood are left out
 * @param problems one entry for each of those
 * @param names tables and columns in the order of the file
 */
public record StatisticsFile(
    Statistics statistics, List<NotUnderstood> problems, List<StatedName> names) {
  /** Sorts the problems and copies the names. */
  public StatisticsFile {
    problems = problems.stream().sorted().toList();
    names = List.copyOf(names);
  }

  /**
   * What it states, under the names by which the schema knows the tables: a schema in front of a
   * name is dropped where it tells no tables apart.
   */
  public Statistics statisticsOf(Schema schema) {
    Map<Identifier, TableStatistics> known = new HashMap<>(statistics.tables());
    new TreeMap<>(statistics.tables())
        .forEach(
            (written, stated) ->
                schema.table(written).ifPresent(table -> known.putIfAbsent(table.name(), stated)));
    return new Statistics(known);
  }

  /**
   * A table or column about which the file states something.
   *
   * @param column empty for the table itself
   */
  public record StatedName(
      Identifier table, Optional<Identifier> column, SourceLocation location) {}

  /** One entry for each table, and each column of a known table, that the schema does not have. */
  public List<NotUnderstood> unknownNames(Schema schema) {
    List<NotUnderstood> unknown = new ArrayList<>();
    for (StatedName name : names) {
      boolean tableKnown = schema.table(name.table()).isPresent();
      if (name.column().isEmpty() && !tableKnown) {
        unknown.add(
            new NotUnderstood(
                name.location(),
                "statistics for table " + name.table() + ", which the changelog does not have"));
      }
      if (name.column().isPresent() && tableKnown && isUnknownColumn(schema, name)) {
        unknown.add(
            new NotUnderstood(
                name.location(),
                "statistics for column "
                    + name.table()
                    + "."
                    + name.column().get()
                    + ", which the changelog does not have"));
      }
    }
    return unknown;
  }

  private static boolean isUnknownColumn(Schema schema, StatedName name) {
    return schema
        .table(name.table())
        .flatMap(table -> name.column().flatMap(table::column))
        .isEmpty();
  }
}
