package dev.colonnade.query.sql;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.query.Conjunct;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.schema.View;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Collectors;

/** A schema given as text, and statements over it given back as text. */
final class StatementFixture {
  private static final SourceLocation PLACE = SourceLocation.of("queries.sql", 10);

  private final Schema schema;
  private final StatementParser parser;

  private StatementFixture(Schema schema, String database) {
    this.schema = schema;
    this.parser = new StatementParser(schema, Dialects.byShortName(database).orElseThrow());
  }

  /** Tables such as {@code berth(id, length)}; the first column is the primary key. */
  static StatementFixture of(String database, String... tables) {
    return new StatementFixture(
        new Schema(Arrays.stream(tables).map(StatementFixture::table).toList(), List.of()),
        database);
  }

  StatementFixture withView(String name, String definition) {
    List<View> views = new ArrayList<>(schema.views());
    views.add(new View(Identifier.of(name), Optional.of(definition), PLACE));
    return new StatementFixture(new Schema(schema.tables(), views), "postgresql");
  }

  StatementFixture on(String database) {
    return new StatementFixture(schema, database);
  }

  private static Table table(String text) {
    String name = text.substring(0, text.indexOf('(')).strip();
    List<Column> columns =
        Arrays.stream(text.substring(text.indexOf('(') + 1, text.lastIndexOf(')')).split(","))
            .map(String::strip)
            .map(it -> Column.of(it, ColumnType.of("integer", TypeFamily.INTEGER), true))
            .toList();
    return new Table(
        Identifier.of(name),
        Optional.empty(),
        columns,
        List.of(columns.get(0).name()),
        List.of(),
        List.of(),
        PLACE);
  }

  StatementReading read(String sql) {
    return parser.parse(
        new QueryText("query", PLACE, QuerySource.FILE, sql, sql, OptionalInt.of(PLACE.line())));
  }

  Query query(String sql) {
    StatementReading reading = read(sql);
    if (reading instanceof StatementReading.Analysed analysed) {
      return analysed.query();
    }
    throw new AssertionError(
        ((StatementReading.NotAnalysed) reading).query().reason() + " in " + sql);
  }

  /** Why the statement is not analysed; {@code analysed} when it is. */
  String reason(String sql) {
    return read(sql) instanceof StatementReading.NotAnalysed not
        ? not.query().reason()
        : "analysed";
  }

  QueryBlock block(String sql, int number) {
    return query(sql).blocks().get(number - 1);
  }

  /** All blocks of the statement, one line each. */
  String render(String sql) {
    return query(sql).blocks().stream()
        .map(StatementFixture::render)
        .collect(Collectors.joining("\n"));
  }

  /**
   * One line a block: number, role, parent, FROM items, conditions with the uses that they may
   * restrict, columns that are read.
   */
  static String render(QueryBlock block) {
    String role = block.role().name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    String parent = block.parent().map(it -> " in " + it).orElse("");
    String from =
        block.from().stream().map(StatementFixture::render).collect(Collectors.joining(", "));
    return block.number()
        + " "
        + role
        + parent
        + ": "
        + from
        + " | "
        + conditions(block)
        + " | "
        + block.columns().stream()
            .sorted()
            .map(it -> it.use() + "." + it.column())
            .collect(Collectors.joining(" "));
  }

  static String conditions(QueryBlock block) {
    return block.conjuncts().stream()
        .map(StatementFixture::render)
        .collect(Collectors.joining(" & "));
  }

  private static String render(Conjunct conjunct) {
    Predicate predicate = conjunct.predicate();
    return predicate.render()
        + conjunct.restricts().stream()
            .sorted()
            .map(String::valueOf)
            .collect(Collectors.joining(",", " {", "}"));
  }

  static String render(FromItem item) {
    String flags =
        (item.nullSupplied() ? "?" : "")
            + (item.after().isEmpty()
                ? ""
                : item.after().stream()
                    .sorted()
                    .map(String::valueOf)
                    .collect(Collectors.joining(",", "<", "")));
    if (item instanceof TableUse table) {
      String alias = table.alias().equals(table.table().text()) ? "" : " " + table.alias();
      return table.use() + "=" + table.table() + alias + flags + (table.wholeRow() ? "!" : "");
    }
    DerivedUse derived = (DerivedUse) item;
    return derived.use()
        + "="
        + derived.block().map(it -> "block " + it).orElse("rows")
        + " "
        + derived.alias()
        + flags;
  }
}
