package dev.colonnade.report;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.design.ColumnOrder;
import dev.colonnade.design.ColumnOrders;
import dev.colonnade.finding.PathText;
import dev.colonnade.finding.ProductionCaution;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Index;
import dev.colonnade.statistics.IndexSize;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Explains one query: how each of its tables is read, what every index would read instead, and what
 * other orders of columns would.
 */
public final class ExplainReport {
  private static final String INDENT = "  ";
  private static final String NOTHING = "-";

  private final QueryAccess query;
  private final AccessPathAnalyzer analyzer;
  private final List<String> lines = new ArrayList<>();

  private ExplainReport(QueryAccess query, AccessPathAnalyzer analyzer) {
    this.query = query;
    this.analyzer = analyzer;
  }

  /** The explanation, line by line. */
  public static List<String> lines(QueryAccess query, AccessPathAnalyzer analyzer) {
    ExplainReport report = new ExplainReport(query, analyzer);
    report.query(query);
    query.tables().forEach(report::table);
    return report.lines;
  }

  private void query(QueryAccess access) {
    lines.add("query    " + access.query().id());
    lines.add("at       " + access.query().location());
    lines.add("text     " + access.query().text().sql().strip().replaceAll("\\s+", " "));
    if (access.tables().isEmpty()) {
      lines.add("");
      lines.add("It reads no table of the changelogs.");
    }
  }

  private void table(TableAccess access) {
    lines.add("");
    lines.add(
        "block "
            + access.block().number()
            + ", table "
            + access.joinPosition()
            + ": "
            + name(access));
    entry("asks", new PathText(query, access).demand());
    fedBy(access);
    entry("needs", access.demand().wholeRow() ? "the whole row" : needed(access));
    entry("table", size(access));
    entry("path", new PathText(query, access).path(access.chosen()));
    if (!access.chosen().remark().isBlank()) {
      entry("", access.chosen().remark());
    }
    access.branches().forEach(branch -> entry("branch", new PathText(query, access).path(branch)));
    if (access.executions() > 1) {
      entry("times", Numbers.text(access.executions()) + ", once for each row read before");
    }
    candidates(access);
    columnOrders(access);
  }

  private void fedBy(TableAccess access) {
    List<String> feeders = new PathText(query, access).feeders();
    if (!feeders.isEmpty()) {
      entry("fed by", String.join(", ", feeders));
    } else if (access.joinPosition() > 1) {
      entry("fed by", "no table: nothing of those read before bounds it");
    }
  }

  private static String name(TableAccess access) {
    String table = access.table().name().text();
    return Identifier.of(access.use().alias()).equals(access.table().name())
        ? table
        : table + " as " + access.use().alias();
  }

  private static String needed(TableAccess access) {
    return access.demand().neededColumns().isEmpty()
        ? "no column"
        : names(access.demand().neededColumns());
  }

  private String size(TableAccess access) {
    TableProfile profile = analyzer.profile(access.table());
    return PathText.count(profile.rows().value(), "row", "rows")
        + " ("
        + profile.rows().confidence().word()
        + ") on "
        + PathText.count(profile.tablePages().value(), "page", "pages");
  }

  private void entry(String label, String text) {
    lines.add(INDENT + label + " ".repeat(8 - label.length()) + text);
  }

  private void block(String heading, List<String> block) {
    lines.add("");
    lines.add(INDENT + heading);
    block.forEach(line -> lines.add((INDENT + INDENT + line).stripTrailing()));
  }

  private void candidates(TableAccess access) {
    if (access.candidates().isEmpty()) {
      lines.add("");
      lines.add(INDENT + "The table has no index.");
      return;
    }
    TextTable table =
        new TextTable(
            "index",
            "path",
            "matching",
            "screening",
            "missing",
            "entries",
            "index pages",
            "table pages",
            "order",
            "numbers",
            "remark");
    if (access.chosen().index().isEmpty() && access.branches().isEmpty()) {
      candidate(table, "(none)", access.chosen());
    }
    for (Candidate candidate : access.candidates()) {
      candidate(table, candidate.index().map(Index::render).orElse(NOTHING), candidate);
    }
    block("What one reading through each index takes", table.lines());
  }

  private static void candidate(TextTable table, String name, Candidate candidate) {
    boolean unusable = candidate.isUnusable();
    table.row(
        name,
        candidate.path().word(),
        values(candidate.matching()),
        values(candidate.screening()),
        candidate.covering() ? "nothing" : names(candidate.missing()),
        unusable ? NOTHING : Numbers.text(candidate.estimate().entries()),
        unusable ? NOTHING : Numbers.text(candidate.estimate().indexPages()),
        Numbers.text(candidate.estimate().tablePages()),
        served(candidate),
        candidate.estimate().confidence().word(),
        candidate.remark());
  }

  private void columnOrders(TableAccess access) {
    List<ColumnOrder> orders = ColumnOrders.of(analyzer, access);
    if (orders.isEmpty()) {
      lines.add("");
      lines.add(INDENT + "No order of columns is worth comparing: nothing here bounds a scan.");
      return;
    }
    TextTable table =
        new TextTable(
            "columns", "path", "matching", "entries", "pages", "order", "entry bytes", "exists as");
    for (ColumnOrder order : orders) {
      Candidate candidate = order.candidate();
      boolean unusable = candidate.isUnusable();
      table.row(
          order.render(),
          candidate.path().word(),
          values(candidate.matching()),
          unusable ? NOTHING : Numbers.text(candidate.estimate().entries()),
          Numbers.text(PathText.pages(candidate)),
          served(candidate),
          Numbers.text(order.entryBytes()),
          order.existing().map(index -> index.name().text()).orElse(NOTHING));
    }
    block("Orders of columns, the cheapest to read first", table.lines());
    lines.add("");
    take(access, ColumnOrders.best(orders));
  }

  private void take(TableAccess access, Optional<ColumnOrder> best) {
    if (best.isEmpty()) {
      entry("take", "none: no index reads less than the table itself");
      return;
    }
    ColumnOrder order = best.get();
    if (order.existing().isPresent()) {
      entry("take", "(" + order.render() + "), which is there: " + order.existing().get().name());
      return;
    }
    if (access.chosen().cost() <= order.candidate().cost()) {
      entry("take", "what is there: no other order reads less");
      return;
    }
    entry(
        "take", "(" + order.render() + "): " + new PathText(query, access).path(order.candidate()));
    entry("price", price(access, order.index()));
    entry("caution", ProductionCaution.building(analyzer.dialect()));
  }

  private String price(TableAccess access, Index index) {
    TableProfile profile = analyzer.profile(access.table());
    IndexSize size = profile.index(index);
    return PathText.count(size.totalPages(), "page", "pages")
        + " for "
        + PathText.count(profile.rows().value(), "row", "rows")
        + " ("
        + profile.rows().confidence().word()
        + "), and one more index to write on every insert, delete and change of its columns";
  }

  private static String served(Candidate candidate) {
    return candidate
        .orderServed()
        .or(candidate::groupingServed)
        .map(served -> served ? "served" : "sorted")
        .orElse(NOTHING);
  }

  private static String values(List<Expression> values) {
    return values.isEmpty()
        ? NOTHING
        : values.stream().map(Expression::render).collect(Collectors.joining(", "));
  }

  private static String names(Collection<Identifier> columns) {
    return columns.isEmpty()
        ? NOTHING
        : columns.stream().map(Identifier::text).collect(Collectors.joining(", "));
  }
}
