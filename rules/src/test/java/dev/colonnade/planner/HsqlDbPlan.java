package dev.colonnade.planner;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A plan of HSQLDB: queries with their range variables in the order of reading. Subqueries stand in
 * a list behind the query; where a condition repeats one, it is not read again.
 */
final class HsqlDbPlan {
  private static final Pattern QUERY = Pattern.compile("^( *)isDistinctSelect=");
  private static final Pattern VARIABLE = Pattern.compile("^( *)(\\]?)\\[range variable \\d+$");
  private static final Pattern BEHIND =
      Pattern.compile("^( *)(groupColumns=|order by=|offset=|limit=|PARAMETERS=|SUBQUERIES).*");
  private static final Pattern NAME = Pattern.compile("(?m)^ *table=(\\S+)");
  private static final Pattern ALIAS = Pattern.compile("(?m)^ *alias=(\\S+)");
  private static final Pattern INDEX =
      Pattern.compile("access=INDEX PRED\\s+join condition = \\[index=(\\w+)");

  private final List<List<String>> queries = new ArrayList<>();

  private HsqlDbPlan(String plan) {
    int indent = -1;
    StringBuilder body = null;
    for (String line : plan.split("\n", -1)) {
      Matcher query = QUERY.matcher(line);
      Matcher variable = VARIABLE.matcher(line);
      if (query.find()) {
        indent = query.group(1).length();
        body = end(body);
        queries.add(new ArrayList<>());
      } else if (variable.find()
          && variable.group(1).length() == indent + 2 * variable.group(2).length()) {
        end(body);
        body = new StringBuilder();
      } else if (BEHIND.matcher(line).matches() && line.indexOf(line.strip()) == indent) {
        body = end(body);
      } else if (body != null) {
        body.append(line).append('\n');
      }
    }
    end(body);
  }

  private StringBuilder end(StringBuilder body) {
    if (body != null) {
      queries.get(queries.size() - 1).add(body.toString());
    }
    return null;
  }

  static PlannedQuery read(String plan, BenchmarkIndexes indexes) {
    List<PlannedScan> scans = new ArrayList<>();
    List<List<String>> queries = new HsqlDbPlan(plan).queries;
    for (List<String> variables : queries) {
      List<String> aliases = variables.stream().map(HsqlDbPlan::alias).toList();
      for (int i = 0; i < variables.size(); i++) {
        String body = variables.get(i);
        int at = i;
        Matcher used = INDEX.matcher(body);
        if (used.find()) {
          indexes
              .find(used.group(1), first(NAME, body).orElse(""))
              .ifPresent(
                  index ->
                      scans.add(
                          new PlannedScan(
                              aliases.get(at),
                              index.name(),
                              HsqlDbPlanner.matching(body, index),
                              Optional.empty(),
                              aliases.subList(0, at),
                              aliases)));
        }
      }
    }
    Optional<String> first =
        queries.stream().limit(1).flatMap(List::stream).findFirst().map(HsqlDbPlan::alias);
    return new PlannedQuery(scans, first, plan);
  }

  private static String alias(String body) {
    return first(ALIAS, body).or(() -> first(NAME, body)).orElse("?").toLowerCase(Locale.ROOT);
  }

  /** The first find ahead of the conditions. */
  private static Optional<String> first(Pattern pattern, String body) {
    int conditions = body.indexOf("condition");
    Matcher found = pattern.matcher(conditions < 0 ? body : body.substring(0, conditions));
    return found.find() ? Optional.of(found.group(1)) : Optional.empty();
  }
}
