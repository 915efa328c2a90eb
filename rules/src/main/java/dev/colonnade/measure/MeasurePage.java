package dev.colonnade.measure;

import dev.colonnade.access.TableAccess;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** {@code measure.md}: where planner and prediction differ, with both plans. */
final class MeasurePage {
  private MeasurePage() {}

  /** One line for the console and the head of the page. */
  static String summary(Measurement measurement) {
    return measurement.database()
        + ": "
        + measurement.queries().size()
        + " queries planned, "
        + measurement.differing()
        + " differ from the prediction, "
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
        "Rows were generated from the statistics file. A planner decides by its own statistics and"
            + " settings: a difference is a question, not an error of either.");
    for (MeasuredQuery query : measurement.queries()) {
      List<String> differences = query.differences();
      if (differences.isEmpty()) {
        continue;
      }
      lines.add("");
      lines.add("## " + query.predicted().query().text().id());
      lines.add("");
      differences.forEach(difference -> lines.add("- " + difference));
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
