package dev.colonnade.planner;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** Writes the counts of a long run as a page. */
final class AgreementPage {
  private static final String HEAD =
      """
      # Agreement with the planners of real databases

      Tables, indexes and queries are generated: tables of 3 to 8 columns of mixed types, indexes of 1 to 4 columns (descending,
      unique, partial, with included columns and on expressions where the database has them), queries with every kind of condition,
      order, grouping and limit. Each database runs inside the test. For every query, table and index for which the planner uses the
      index, its plan and our `explain` are compared: the columns that the scan seeks on, whether the index alone answers, whether a
      sort is left out. A planner that leaves an index alone is not counted. Run it again with

      ```
      mvn -B -ntp -pl rules test -Dtest=PlannerAgreementTest -Dcolonnade.planner.triples=TRIPLES
      ```

      How to read it: "the same" is the figure to go by. The differences were named while runs like these were looked at, so that
      few are left "not explained" by construction; other seeds show a few more, and the command fails where one is left; such ones
      are listed behind the table. The named ones stand below, by what they say of the analysis; those under "We claim more
      than the planner does" speak against it. Where a plan lists seek conditions and filters alike (PostgreSQL, H2) the seek
      columns are the leading ones of its list, on H2 as far as the counted entries bear that out; H2 and HSQLDB do not tell
      whether the index alone answers. An index that the planner leaves alone is not compared.

      Every third group of tables is joined: two or three tables by inner, left and cross joins, with derived tables, and by
      subqueries under EXISTS, NOT EXISTS and IN and in the select list; single tables may stand in a derived table, too. Each
      table is then compared under the planner\'s own order of reading: our row is the one for that table after the tables that the
      plan reads before it. Order and grouping are compared on the table that is read first.

      """;

  /** Headings, in order, of what this run does not write. */
  private static final List<String> KEPT = List.of("## Other seeds", "## Published benchmarks");

  /** Characters of a plan that are printed. */
  private static final int PLAN = 600;

  private AgreementPage() {}

  /** The sections behind, on other seeds, benchmarks and what the counters' run writes, stay. */
  private static String counted(Path page) throws IOException {
    String old = Files.exists(page) ? Files.readString(page) : "";
    return KEPT.stream()
        .map(old::indexOf)
        .filter(start -> start >= 0)
        .findFirst()
        .map(start -> "\n" + old.substring(start))
        .orElse("");
  }

  /** The databases that the fact was seen in, with how many times. */
  private static String where(KnownDifference fact, Map<String, Agreement> results) {
    return results.entrySet().stream()
        .filter(it -> it.getValue().known().containsKey(fact))
        .map(it -> it.getKey() + ": " + it.getValue().known().get(fact))
        .collect(Collectors.joining("; ", "(", ")\n"));
  }

  /** Every difference that no sentence explains, plans cut short, or nothing. */
  private static String unexplained(Map<String, Agreement> results) {
    StringBuilder text = new StringBuilder();
    results.forEach(
        (version, agreement) ->
            agreement
                .disagreements()
                .forEach(
                    it ->
                        text.append("\n")
                            .append(version)
                            .append(": ")
                            .append(cut(it))
                            .append("\n")));
    return text.isEmpty()
        ? ""
        : "\n"
            + "## Not explained\n\n"
            + "What differs, as the test prints it; \"word\" is the planner's. Plans are cut after "
            + PLAN
            + " characters.\n\n"
            + "```"
            + text
            + "```\n";
  }

  private static String cut(String difference) {
    int plan = difference.indexOf("\n  plan  ");
    int end = plan + "\n  plan  ".length() + PLAN;
    return plan < 0 || difference.length() <= end ? difference : difference.substring(0, end);
  }

  static void write(Path page, long seed, int wanted, Map<String, Agreement> results)
      throws IOException {
    StringBuilder text = new StringBuilder(HEAD.replace("TRIPLES", String.valueOf(wanted)));
    text.append("Seed ").append(seed).append(".\n\n");
    text.append("| database | asked | index used | the same | explained below | not explained |\n");
    text.append("| --- | --- | --- | --- | --- | --- |\n");
    Map<String, Agreement> sorted = new TreeMap<>(results);
    sorted.forEach(
        (version, agreement) ->
            text.append(
                String.format(
                    Locale.ROOT,
                    "| %s | %d | %d | %d | %d | %d |\n",
                    version,
                    agreement.asked(),
                    agreement.compared(),
                    agreement.agreed(),
                    agreement.explained(),
                    agreement.disagreements().size())));
    text.append(unexplained(sorted));
    text.append("\n## What the differences are\n");
    Set<KnownDifference> facts = new TreeSet<>(KnownDifference.ORDER);
    sorted.values().forEach(agreement -> facts.addAll(agreement.known().keySet()));
    String kind = "";
    for (KnownDifference fact : facts) {
      if (!fact.kind().equals(kind)) {
        kind = fact.kind();
        text.append("\n### ").append(kind).append("\n\n");
      }
      text.append("- ").append(fact.explanation()).append(" ").append(where(fact, sorted));
    }
    Files.writeString(page, text + counted(page));
  }
}
