package dev.colonnade.access;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.SortRules;
import dev.colonnade.dialect.SortRules.WrittenNulls;
import dev.colonnade.predicate.Expression;
import dev.colonnade.query.OrderItem;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.schema.Table;
import java.util.List;

/** Whether the NULLs of a key stand where an order wants them. */
final class NullPlacement {
  private final Table table;
  private final Dialect dialect;
  private final WrittenNulls rule;

  NullPlacement(Table table, Dialect dialect) {
    this.table = table;
    this.dialect = dialect;
    this.rule = SortRules.of(dialect).writtenNulls().value();
  }

  /** True where what is written of NULLs keeps an order from every index. */
  boolean forbids(List<OrderItem> order) {
    return rule == WrittenNulls.LAST_SORTED_WITH_NULLABLE
        && order.stream().anyMatch(item -> item.nulls() == NullOrder.LAST)
        && order.stream().anyMatch(item -> isNullable(item.expression()));
  }

  /** True where an order of one row is sorted because of what is written of NULLs. */
  boolean forbidsForOneRow(List<OrderItem> order) {
    return rule == WrittenNulls.COMPARED
        && order.stream().anyMatch(item -> item.nulls() != NullOrder.DEFAULT);
  }

  /** True where what is written of NULLs keeps an order of groups from being that of the groups. */
  boolean forbidsForGroups(List<OrderItem> order) {
    return rule == WrittenNulls.READ_IN_TWO_PARTS && order.stream().anyMatch(this::isUnusual);
  }

  private boolean isUnusual(OrderItem item) {
    return isFirst(item.nulls(), item.descending())
        != isFirst(NullOrder.DEFAULT, item.descending());
  }

  /**
   * Whether the NULLs of a part of the key stand, in a direction of reading, where a term wants
   * them.
   *
   * @param behindEqualities true where everything before the part is bound to one value
   */
  boolean agrees(
      KeyColumn part, OrderItem item, Demand demand, boolean backward, boolean behindEqualities) {
    boolean stored = part.descending() && dialect.features().descending().value();
    boolean same =
        (isFirst(part.nulls(), stored) != backward) == isFirst(item.nulls(), item.descending());
    boolean written = item.nulls() != NullOrder.DEFAULT || part.nulls() != NullOrder.DEFAULT;
    return switch (rule) {
      case MOOT_WITHOUT_NULLS -> same || !hasNulls(part.value(), demand);
      case COMPARED_IF_NULLABLE ->
          same || (written ? !isNullable(part.value()) : !hasNulls(part.value(), demand));
      case COMPARED -> same || (!written && !hasNulls(part.value(), demand));
      case LAST_SORTED_WITH_NULLABLE -> same || written || !hasNulls(part.value(), demand);
      case READ_IN_TWO_PARTS ->
          same || (written ? behindEqualities : !hasNulls(part.value(), demand));
    };
  }

  private boolean hasNulls(Expression value, Demand demand) {
    return isNullable(value)
        && demand.conditions().stream()
            .noneMatch(condition -> Implication.rejectsNull(condition, value));
  }

  private boolean isNullable(Expression value) {
    return value.columns().stream()
        .anyMatch(column -> !Operands.isSelf(column) || table.isNullable(column.column()));
  }

  private boolean isFirst(NullOrder written, boolean descending) {
    return switch (written) {
      case FIRST -> true;
      case LAST -> false;
      case DEFAULT -> dialect.ordering().nullsFirst().value() != descending;
    };
  }
}
