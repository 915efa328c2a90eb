package dev.colonnade.measure;

import dev.colonnade.access.TableAccess;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/** {@code measure.md}: where planner and prediction differ, with both plans. */
final class MeasurePage {
  private MeasurePage() {}

  /** One line for the console and the head of the page. */
  static String summary(Measurement measurement) {
    List<MeasuredQuery> queries = measurement.queries();
    long path = queries.stream().filter(MeasuredQuery::differsInPath).count();
    long choice = queries.stream().filter(MeasuredQuery::differsInChoice).count();
    long small = queries.stream().filter(MeasuredQuery::differsOnSmallTablesOnly).count();
    return measurement.database()
        + ": "
        + queries.size()
        + " queries planned; "
        + path
        + " where an index does something else than predicted, "
        + choice
        + " where the planner takes another index or none ("
        + small
        + " of them on small tables only); "
        + measurement.skipped().size()
        + " entries skipped";
  }

  /** The page. */
  static String text(Measurement measurement) {
    List<String> lines = new ArrayList<>();
    lines.add("# Planner and prediction");
    lines.add("");
    lines.add(summary(measurement) + ".");
    lines.add("");
    lines.add(
        "Empty tables were filled from the statistics file, up to `measureRows` rows each; the"
            + " prediction is the one for the rows that lie there, so it may differ from that of"
            + " `check`. A planner decides by its own statistics and settings: a difference is a"
            + " question, not an error of either.");
    section(lines, "An index does something else", measurement, MeasuredQuery::differsInPath);
    section(
        lines,
        "Another index is taken, or none",
        measurement,
        query -> query.differsInChoice() && !query.differsOnSmallTablesOnly());
    section(
        lines, "The same on small tables", measurement, MeasuredQuery::differsOnSmallTablesOnly);
    if (!measurement.skipped().isEmpty()) {
      lines.add("");
      lines.add("## Skipped");
      lines.add("");
      measurement
          .skipped()
          .forEach(
              entry ->
                  lines.add(
                      "- "
                          + entry.location().file()
                          + ":"
                          + entry.location().line()
                          + ": "
                          + entry.reason()));
    }
    return String.join("\n", lines) + "\n";
  }

  private static void section(
      List<String> lines, String title, Measurement measurement, Predicate<MeasuredQuery> which) {
    List<MeasuredQuery> queries = measurement.queries().stream().filter(which).toList();
    if (queries.isEmpty()) {
      return;
    }
    lines.add("");
    lines.add("## " + title);
    for (MeasuredQuery query : queries) {
      lines.add("");
      lines.add("### " + query.predicted().query().text().id());
      lines.add("");
      query.differences().forEach(difference -> lines.add("- " + difference.text()));
      lines.add("");
      lines.add("Predicted:");
      lines.add("");
      lines.add("```");
      query.predicted().tables().forEach(access -> lines.add(predicted(access)));
      lines.add("```");
      lines.add("");
      lines.add("Planner:");
      lines.add("");
      lines.add("```");
      query.plan().lines().forEach(lines::add);
      lines.add("```");
    }
  }

  private static String predicted(TableAccess access) {
    return access.table().name().text()
        + ": "
        + access.chosen().path().word()
        + access.chosen().index().map(index -> " " + index.name().text()).orElse("")
        + access.chosen().matching().stream()
            .map(value -> value.render())
            .collect(Collectors.joining(", ", " (", ")"));
  }
}
