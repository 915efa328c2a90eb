package dev.colonnade.measure;

import dev.colonnade.measure.PlannedRead.Bound;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A plan of H2: a comment behind each table names the index and lists every condition on its
 * columns. The cursor fills its start and end column by column and steps through a list of values
 * on the first column only (IndexCursor.java). Whether the index alone answers it does not tell.
 */
final class H2Plan {
  private static final Pattern SCAN =
      Pattern.compile(
          "\"(?<table>[^\"]+)\"(?: \"(?<alias>[^\"]+)\")?\\s+/\\*"
              + " (?:\\w+\\.)?(?<index>[\\w.]+)(?:: (?<conditions>.*?))? ?\\*/",
          Pattern.DOTALL);
  private static final Pattern LIST = Pattern.compile("\\bIN\\s*\\(");

  private H2Plan() {}

  static PlannedReads of(String plan) {
    List<PlannedRead> reads = new ArrayList<>();
    Matcher scan = SCAN.matcher(plan);
    while (scan.find()) {
      String alias = scan.group("alias") == null ? scan.group("table") : scan.group("alias");
      String index = scan.group("index");
      String conditions = scan.group("conditions") == null ? "" : scan.group("conditions");
      reads.add(
          index.toLowerCase(Locale.ROOT).contains("tablescan")
              ? PlannedRead.whole(alias)
              : PlannedRead.through(alias, index)
                  .withBounds(bounds(conditions))
                  .withAfter(PlanClauses.tables(conditions)));
    }
    return new PlannedReads(
        reads, !plan.contains("/* index sorted */") && !plan.contains("/* group sorted */"));
  }

  /** Beside a list the plan does not tell which conditions seek. */
  private static Optional<List<Bound>> bounds(String conditions) {
    Optional<List<Bound>> bounds = PlanClauses.bounds(conditions);
    return LIST.matcher(conditions).find() ? bounds.filter(all -> all.size() == 1) : bounds;
  }
}
