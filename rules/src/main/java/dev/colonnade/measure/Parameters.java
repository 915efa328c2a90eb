package dev.colonnade.measure;

import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.statistics.Statistics;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A statement whose parameters were replaced by what one database takes for them.
 *
 * @param values one for each parameter, in their order: a value of the column that the parameter is
 *     compared with, or 1
 */
record Parameters(String sql, List<Object> values) {
  /** Texts, comments and quoted names are passed over. */
  private static final Pattern TOKEN =
      Pattern.compile(
          "'(?:[^']|'')*'|\"[^\"]*\"|`[^`]*`|--[^\\n]*|/\\*.*?\\*/|::\\w+"
              + "|(?<parameter>\\?\\d*|:[A-Za-z_]\\w*|#\\{[^}]*\\})",
          Pattern.DOTALL);

  private static final Pattern COMPARED =
      Pattern.compile(
          "([A-Za-z_]\\w*)[\"`]?\\s*(?:=|<>|!=|<=|>=|<|>|\\blike\\b|\\bilike\\b"
              + "|\\b(?:not\\s+)?in\\s*\\([^()]*|\\bbetween\\b(?:\\s+\\S+\\s+and\\b)?)\\s*\\(*\\s*$",
          Pattern.CASE_INSENSITIVE);

  /** Copies the list. */
  Parameters {
    values = new ArrayList<>(values);
  }

  static Parameters of(
      String sql, MeasuredDatabase database, Schema schema, Statistics statistics) {
    StringBuilder text = new StringBuilder();
    List<Object> values = new ArrayList<>();
    Matcher token = TOKEN.matcher(sql);
    int end = 0;
    while (token.find()) {
      text.append(sql, /* start= */ end, /* end= */ token.start());
      end = token.end();
      if (token.group("parameter") == null) {
        text.append(token.group());
        continue;
      }
      boolean page = isRowCount(sql.substring(0, token.start()));
      if (page) {
        text.append('1');
      } else {
        values.add(value(sql.substring(0, token.start()), sql, schema, statistics));
        text.append(database.placeholder(values.size()));
      }
    }
    return new Parameters(text.append(sql.substring(end)).toString(), values);
  }

  private static boolean isRowCount(String before) {
    return before.toLowerCase(Locale.ROOT).matches("(?s).*\\b(limit|offset|first|next)\\s+");
  }

  private static Object value(String before, String sql, Schema schema, Statistics statistics) {
    Matcher compared = COMPARED.matcher(before);
    if (!compared.find()) {
      return 1L;
    }
    Identifier name = Identifier.of(compared.group(1));
    String folded = sql.toLowerCase(Locale.ROOT);
    for (Table table : schema.tables()) {
      Optional<Column> column = table.column(name);
      if (column.isPresent() && folded.contains(table.name().folded().toLowerCase(Locale.ROOT))) {
        RowGenerator rows = new RowGenerator(table, statistics.table(table.name()), 100);
        return rows.typed(column.get(), 1);
      }
    }
    return 1L;
  }
}
