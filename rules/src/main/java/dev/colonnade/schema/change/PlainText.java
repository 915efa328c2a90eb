package dev.colonnade.schema.change;

import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.Call;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.TypeFamily;
import java.util.Locale;
import java.util.Set;

/** Takes casts off text columns that already are text. */
final class PlainText {
  private static final Set<String> CASTS =
      Set.of("cast text", "cast varchar", "cast character varying");

  private final TableState table;

  PlainText(TableState table) {
    this.table = table;
  }

  KeyColumn of(KeyColumn key) {
    return new KeyColumn(
        of(key.value()),
        key.descending(),
        key.nulls(),
        key.prefixLength(),
        key.operatorClass(),
        key.collation());
  }

  Expression of(Expression value) {
    if (!(value instanceof Call call)) {
      return value;
    }
    if (CASTS.contains(call.name().toLowerCase(Locale.ROOT))
        && call.arguments().size() == 1
        && call.arguments().get(0) instanceof ColumnRef column
        && table.column(column.column()).filter(PlainText::isVarying).isPresent()) {
      return column;
    }
    return new Call(
        call.name(), call.arguments().stream().map(this::of).toList(), call.deterministic());
  }

  /** A CHAR would lose its blanks by the cast. */
  private static boolean isVarying(Column column) {
    String type = column.type().text().toLowerCase(Locale.ROOT);
    return column.type().family() == TypeFamily.TEXT
        && (type.startsWith("varchar")
            || type.startsWith("character varying")
            || type.startsWith("text"));
  }
}
