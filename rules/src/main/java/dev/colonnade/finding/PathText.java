package dev.colonnade.finding;

import dev.colonnade.access.AccessEstimate;
import dev.colonnade.access.Bound;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.QueryAccess;
import dev.colonnade.access.TableAccess;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.Index;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The one way in which findings write down demands, access paths and estimates.
 *
 * @param query the query
 * @param access one of its table uses
 */
public record PathText(QueryAccess query, TableAccess access) {

  /** What a query asks of a table: {@code berth: harbour_id = ? and length > ? order by length}. */
  public String demand() {
    String conditions =
        access.demand().conditions().stream()
            .map(condition -> render(condition))
            .collect(Collectors.joining(" and "));
    String text = access.table().name() + ": " + (conditions.isEmpty() ? "every row" : conditions);
    List<OrderItem> order = access.demand().order();
    if (!order.isEmpty()) {
      text += " order by " + order.stream().map(PathText::item).collect(Collectors.joining(", "));
    }
    if (!order.isEmpty() && access.block().limit().isPresent()) {
      text += " limit";
      if (access.block().limit().get().rows().isPresent()) {
        text += " " + access.block().limit().get().rows().getAsLong();
      }
    }
    return text;
  }

  private static String item(OrderItem item) {
    return item.expression().render()
        + (item.descending() ? " desc" : "")
        + switch (item.nulls()) {
          case DEFAULT -> "";
          case FIRST -> " nulls first";
          case LAST -> " nulls last";
        };
  }

  /**
   * An access path with what it reads: {@code range-scan booking ix_berth(berth_id = ?) screening
   * status: 40 entries, 42 pages, 40 rows (assumed)}.
   */
  public String path(Candidate candidate) {
    return shape(candidate) + ": " + estimate(candidate);
  }

  /** An access path without numbers. */
  public String shape(Candidate candidate) {
    String text = candidate.path().word() + " " + access.table().name();
    if (candidate.index().isPresent() && !candidate.isUnusable()) {
      text += " " + candidate.index().get().name();
    }
    if (!candidate.matching().isEmpty() && !candidate.isUnusable()) {
      text +=
          candidate.matching().stream()
              .map(value -> bound(value))
              .collect(Collectors.joining(", ", "(", ")"));
    }
    if (!candidate.screening().isEmpty()) {
      text +=
          candidate.screening().stream()
              .map(Expression::render)
              .collect(Collectors.joining(", ", " screening ", ""));
    }
    return candidate.orderServed().equals(Optional.of(false)) ? text + ", sorted afterwards" : text;
  }

  /**
   * The tables whose rows give values to the conditions here, by alias, in the order of the FROM
   * clauses: those read before it in the same block and those of enclosing blocks.
   */
  public List<String> feeders() {
    Set<Integer> uses =
        access.demand().conditions().stream()
            .flatMap(condition -> condition.columns().stream())
            .map(ColumnRef::use)
            .filter(use -> use != ColumnRef.SELF && use != access.use().use())
            .collect(Collectors.toSet());
    return query.query().blocks().stream()
        .flatMap(block -> block.from().stream())
        .filter(item -> uses.contains(item.use()))
        .map(FromItem::alias)
        .toList();
  }

  /** A condition as text; columns of other tables carry the alias of their table. */
  public String render(Predicate condition) {
    Map<Integer, String> aliases =
        query.query().blocks().stream()
            .flatMap(block -> block.from().stream())
            .collect(Collectors.toMap(FromItem::use, FromItem::alias));
    return Conditions.map(
            condition,
            column ->
                column.use() == ColumnRef.SELF
                    ? column
                    : new ColumnRef(
                        column.use(),
                        new Identifier(aliases.get(column.use()) + "." + column.render())))
        .render();
  }

  /** A condition as the query has it; columns of other tables carry the alias of their table. */
  public String own(Predicate condition) {
    int self = access.use().use();
    return render(
        Conditions.map(
            condition,
            column ->
                column.use() == self ? new ColumnRef(ColumnRef.SELF, column.column()) : column));
  }

  private String bound(Expression value) {
    return access.demand().bounds().stream()
        .filter(bound -> bound.value().equals(value))
        .findFirst()
        .map(Bound::origins)
        .filter(origins -> !origins.isEmpty())
        .map(
            origins ->
                origins.stream().map(origin -> render(origin)).collect(Collectors.joining(" and ")))
        .orElseGet(value::render);
  }

  /** What one execution reads: {@code 40 entries, 42 pages, 40 rows (assumed)}. */
  public static String estimate(Candidate candidate) {
    AccessEstimate estimate = candidate.estimate();
    String entries =
        estimate.entries() > 0 ? count(estimate.entries(), "entry", "entries") + ", " : "";
    return entries
        + count(pages(candidate), "page", "pages")
        + ", "
        + count(estimate.rows(), "row", "rows")
        + " ("
        + estimate.confidence().word()
        + ")";
  }

  /** Pages of index and table that one execution reads. */
  public static double pages(Candidate candidate) {
    return candidate.estimate().indexPages() + candidate.estimate().tablePages();
  }

  /**
   * A rounded number with its noun; a positive number that rounds to nothing is {@code under 1}.
   */
  public static String count(double value, String one, String many) {
    long rounded = Math.round(value);
    if (rounded == 0 && value > 0) {
      return "under 1 " + one;
    }
    return String.format(Locale.ROOT, "%d %s", rounded, rounded == 1 ? one : many);
  }

  /** Why an index does not help: {@code ix(status, vessel_id): 0 matching, status is not bound}. */
  public static String shortcoming(Candidate candidate) {
    String name = candidate.index().map(Index::render).orElse("no index");
    String text = name + ": " + candidate.matching().size() + " matching";
    return candidate.remark().isBlank() ? text : text + ", " + candidate.remark();
  }
}
