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
          "(?<kind>[A-Za-z ]*Index Scan ResultSet) for (?<table>\\w+) using (?:index|constraint)"
              + " (?<index>\\w+)"
              + "(?<body>.*?)(?=[A-Za-z ]*Scan ResultSet for|$)",
          Pattern.DOTALL);
  private static final Pattern ANY_SCAN =
      Pattern.compile("Scan ResultSet for (\\w+)(?: using | at )|Row ResultSet:");
  private static final Pattern POSITION = Pattern.compile("on first (\\d+) column");
  private static final Pattern OPENS = Pattern.compile("Number of opens = (\\d+)");
  private static final Pattern VISITED = Pattern.compile("Number of rows visited=(\\d+)");

  /** In KB; read when a database starts. */
  private static final String MEMORY = "derby.language.maxMemoryPerTable";

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

  /** One whose joins are nested loops: it believes that no table of a hash fits into the memory. */
  static DerbyPlanner withoutHashJoins() throws SQLException {
    String memory = System.getProperty(MEMORY);
    System.setProperty(MEMORY, "0");
    try {
      return new DerbyPlanner();
    } finally {
      if (memory == null) {
        System.clearProperty(MEMORY);
      } else {
        System.setProperty(MEMORY, memory);
      }
    }
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
        PlannerWord word =
            PlannerWord.seeks(matching(scan.group("body"), index), plan)
                .withCovering(!fetches(plan, table.name()));
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
        boolean tells = !query.grouped() || query.rest().contains("group by");
        Optional<Boolean> inOrder =
            tells ? inOrder(plan, query.grouped(), query.sorted()) : Optional.empty();
        return inOrder.map(word::withOrdered).orElse(word);
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
      if (any.group(1) != null && isApart(plan.substring(0, any.start()))) {
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
        before.add(
            any.group(1) == null ? PlannedQuery.VALUES : any.group(1).toLowerCase(Locale.ROOT));
      }
    }
    return before;
  }

  /** Scans that were opened: of the others the plan does not tell where they would start. */
  @Override
  PlannedQuery plan(String sql, BenchmarkIndexes indexes) throws SQLException {
    rows(sql);
    String plan = text("values syscs_util.syscs_get_runtimestatistics()");
    List<PlannedScan> scans = new ArrayList<>();
    Matcher scan = SCAN.matcher(plan);
    while (scan.find()) {
      String table = scan.group("table").toLowerCase(Locale.ROOT);
      String head = plan.substring(0, scan.start());
      Matcher opens = OPENS.matcher(scan.group("body"));
      boolean opened = opens.find() && !opens.group(1).equals("0");
      Optional<TestIndex> index = indexes.find(scan.group("index"), table);
      if (opened && index.isPresent() && !isApart(head)) {
        scans.add(
            new PlannedScan(
                table,
                index.get().name(),
                matching(scan.group("body"), index.get()),
                Optional.of(!fetches(plan, table)),
                before(head),
                List.of()));
      }
    }
    List<String> all = before(plan);
    return new PlannedQuery(
        scans.stream().map(it -> it.withJoined(all)).toList(), all.stream().findFirst(), plan);
  }

  @Override
  boolean tellsAliases() {
    return false;
  }

  private static boolean fetches(String plan, String table) {
    return plan.contains(
        "Index Row to Base Row ResultSet for " + table.toUpperCase(Locale.ROOT) + ":");
  }

  @Override
  Optional<Boolean> inOrder(String plan, boolean grouped, boolean sorted) {
    if (grouped == sorted) {
      return Optional.empty();
    }
    return Optional.of(
        sorted ? !plan.contains("Sort ResultSet") : plan.contains("In sorted order = true"));
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
