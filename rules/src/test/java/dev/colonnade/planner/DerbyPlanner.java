package dev.colonnade.planner;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.planner.TestTable.TestIndex;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Derby: the runtime statistics of a query with {@code --DERBY-PROPERTIES index}. The longer one of
 * "start position: on first N columns" and "stop position: on first N columns" is what the scan
 * seeks on.
 */
final class DerbyPlanner extends EmbeddedPlanner {
  private static final Pattern SCAN =
      Pattern.compile(
          "(?<kind>[A-Za-z ]*Index Scan ResultSet) for (?<table>\\w+) using index (?<index>\\w+)"
              + "(?<body>.*?)(?=Scan ResultSet for|$)",
          Pattern.DOTALL);
  private static final Pattern ANY_SCAN =
      Pattern.compile("Scan ResultSet for (\\w+)(?: using | at )");
  private static final Pattern POSITION = Pattern.compile("on first (\\d+) column");
  private static final Pattern OPENS = Pattern.compile("Number of opens = (\\d+)");
  private static final Pattern VISITED = Pattern.compile("Number of rows visited=(\\d+)");

  DerbyPlanner() throws SQLException {
    super(
        Dialects.derby(),
        new Abilities(
            true,
            false,
            false,
            false,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            false,
            false,
            false,
            true,
            "offset 3 rows fetch first %d rows only",
            "fetch first %d rows only"),
        DriverManager.getConnection(url()));
    execute("call syscs_util.syscs_set_runtimestatistics(1)");
  }

  private static String url() {
    System.setProperty("derby.stream.error.file", Path.of("target", "derby.log").toString());
    return "jdbc:derby:memory:planner;create=true";
  }

  @Override
  void analyze(TestTable table) throws SQLException {
    execute(
        "call syscs_util.syscs_update_statistics('APP', '"
            + table.name().toUpperCase(Locale.ROOT)
            + "', null)");
  }

  @Override
  PlannerWord ask(TestQuery query, TestTable table, TestIndex index) throws SQLException {
    String forced =
        " --DERBY-PROPERTIES index="
            + index.name().toUpperCase(Locale.ROOT)
            + (query.tables().size() > 1 ? ", joinStrategy=NESTEDLOOP\n" : "\n");
    rows(query.sql(name -> name.equals(table.name()) ? forced : ""));
    String plan = text("values syscs_util.syscs_get_runtimestatistics()");
    Matcher scan = SCAN.matcher(plan);
    while (scan.find()) {
      if (scan.group("index").equalsIgnoreCase(index.name())) {
        String fetches =
            "Index Row to Base Row ResultSet for " + table.name().toUpperCase(Locale.ROOT);
        PlannerWord word =
            PlannerWord.seeks(matching(scan.group("body"), index), plan)
                .withCovering(!plan.contains(fetches));
        Matcher visited = VISITED.matcher(scan.group("body"));
        if (visited.find()) {
          word = word.withEntries(Long.parseLong(visited.group(1)));
        }
        Matcher opens = OPENS.matcher(scan.group("body"));
        if (opens.find() && opens.group(1).equals("0")) {
          // Never opened: the tables before it yielded no row.
          return PlannerWord.notUsed(plan);
        }
        String head = plan.substring(0, scan.start());
        boolean apart = isApart(head);
        word = word.withApart(apart(plan)).withReadBefore(apart ? List.of() : before(head));
        return ordered(query, word, plan);
      }
    }
    return PlannerWord.notUsed(plan);
  }

  private static boolean isApart(String head) {
    return head.lastIndexOf("Begin Subquery Number") > head.lastIndexOf("End Subquery Number");
  }

  private static List<String> apart(String plan) {
    List<String> apart = new ArrayList<>();
    Matcher any = ANY_SCAN.matcher(plan);
    while (any.find()) {
      if (isApart(plan.substring(0, any.start()))) {
        apart.add(any.group(1).toLowerCase(Locale.ROOT));
      }
    }
    return apart;
  }

  private static List<String> before(String head) {
    List<String> before = new ArrayList<>();
    Matcher any = ANY_SCAN.matcher(head);
    while (any.find()) {
      if (!isApart(head.substring(0, any.start()))) {
        before.add(any.group(1).toLowerCase(Locale.ROOT));
      }
    }
    return before;
  }

  private static PlannerWord ordered(TestQuery query, PlannerWord word, String plan) {
    if (query.sorted() && !query.grouped()) {
      return word.withOrdered(!plan.contains("Sort ResultSet"));
    }
    boolean groups = query.grouped() && !query.sorted() && query.rest().contains("group by");
    return groups ? word.withOrdered(plan.contains("In sorted order = true")) : word;
  }

  private static List<String> matching(String body, TestIndex index) {
    int from = body.indexOf("start position:");
    int to = body.indexOf("qualifiers:");
    int columns = 0;
    if (from >= 0 && to > from) {
      Matcher position = POSITION.matcher(body.substring(from, to));
      while (position.find()) {
        columns = Math.max(columns, Integer.parseInt(position.group(1)));
      }
    }
    return index.keyTexts().subList(0, Math.min(columns, index.key().size()));
  }

  @Override
  public void close() throws SQLException, IOException {
    super.close();
    try {
      DriverManager.getConnection("jdbc:derby:memory:planner;drop=true").close();
    } catch (SQLException e) {
      if (!"08006".equals(e.getSQLState())) {
        throw e;
      }
    }
  }
}
