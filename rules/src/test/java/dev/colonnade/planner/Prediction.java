package dev.colonnade.planner;

import dev.colonnade.access.AccessPathAnalyzer;
import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.planner.TestTable.TestColumn;
import dev.colonnade.planner.TestTable.TestIndex;
import dev.colonnade.planner.TestTable.TestKey;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.BlockRole;
import dev.colonnade.query.FromItem;
import dev.colonnade.query.FromItem.DerivedUse;
import dev.colonnade.query.FromItem.TableUse;
import dev.colonnade.query.Query;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.sql.StatementParser;
import dev.colonnade.query.sql.StatementReading;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.sql.ExpressionReader;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.statistics.ColumnStatistics;
import dev.colonnade.statistics.RowKey;
import dev.colonnade.statistics.Statistics;
import dev.colonnade.statistics.TableProfile;
import dev.colonnade.statistics.TableStatistics;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;

/** What the analysis says about generated queries over generated tables. */
final class Prediction {
  private static final SourceLocation PLACE = SourceLocation.of("generated.sql");

  private final Dialect dialect;
  private final List<TestTable> tables;
  private final Schema schema;
  private final StatementParser parser;
  private final AccessPathAnalyzer analyzer;

  Prediction(Dialect dialect, List<TestTable> tables) {
    this.dialect = dialect;
    this.tables = tables;
    this.schema = new Schema(tables.stream().map(this::table).toList(), List.of());
    this.parser = new StatementParser(schema, dialect);
    this.analyzer = new AccessPathAnalyzer(schema, dialect, statistics(tables));
  }

  /**
   * Our word on one index.
   *
   * @param matching key columns as written in the index
   * @param ordered order or grouping served; empty where neither is asked for
   */
  record OurWord(
      List<String> matching, Optional<Boolean> ordered, TableAccess access, Candidate candidate) {
    String summary() {
      return "matching "
          + matching
          + ", covering "
          + candidate.covering()
          + ", ordered "
          + ordered.map(String::valueOf).orElse("?")
          + ", "
          + candidate.path().word()
          + " ("
          + candidate.remark()
          + ")";
    }
  }

  /** The query, understood. */
  Query query(TestQuery query) {
    return query(query.sql()).orElseThrow(() -> new AssertionError("not analysed: " + query.sql()));
  }

  /** The query, if it is understood. */
  Optional<Query> query(String sql) {
    QueryText text = new QueryText("generated", PLACE, QuerySource.FILE, sql, sql);
    return parser.parse(text) instanceof StatementReading.Analysed analysed
        ? Optional.of(analysed.query())
        : Optional.empty();
  }

  /** What an index does for one use of a table, once others are read; none where we have none. */
  Optional<Candidate> candidate(
      Query query, int use, Set<Integer> read, Set<Integer> joined, String index) {
    return analyzer.accessAfter(query, use, read, joined).orElseThrow().candidates().stream()
        .filter(it -> isIndex(it.index().orElseThrow(), index))
        .findFirst();
  }

  /** The table that a use reads. */
  Table table(TableUse use) {
    return schema.table(use.table()).orElseThrow();
  }

  /** True for an index that the rows are stored in, of which no plan says that it is enough. */
  boolean holdsRows(Index index) {
    return RowKey.isOf(index, schema.table(index.table()).orElseThrow(), dialect);
  }

  /** The row number, which is the primary key, has no name of ours. */
  private static boolean isIndex(Index index, String name) {
    return index.name().equals(Identifier.of(name))
        || (index.origin() == IndexOrigin.PRIMARY_KEY && name.equals("pk_" + index.table().text()));
  }

  /** Our word on an index of one of the tables, in our own order of reading. */
  OurWord word(Query query, TestIndex index) {
    TableAccess access =
        analyzer.analyze(query).tables().stream()
            .filter(it -> it.table().name().text().equals(index.table()))
            .findFirst()
            .orElseThrow();
    Candidate candidate =
        access.candidates().stream()
            .filter(it -> it.index().orElseThrow().name().text().equals(index.name()))
            .findFirst()
            .orElseThrow();
    return new OurWord(
        candidate.matching().stream().map(Expression::render).toList(),
        Optional.empty(),
        access,
        candidate);
  }

  /** Our word on an index of one of the tables, in the planner's own order of reading. */
  OurWord word(Query query, TestQuery asked, TestIndex index, PlannerWord theirs) {
    QueryBlock block =
        query.blocks().stream()
            .filter(it -> it.tables().stream().anyMatch(use -> isOf(use, index.table())))
            .findFirst()
            .orElseThrow();
    boolean apart = theirs.apart().contains(index.table());
    boolean correlated =
        apart && (block.role() == BlockRole.EXISTS || block.role() == BlockRole.SCALAR);
    Set<Integer> read = new LinkedHashSet<>();
    Set<Integer> joined = new LinkedHashSet<>();
    for (QueryBlock any : query.blocks()) {
      boolean around = correlated && block.parent().equals(Optional.of(any.number()));
      for (FromItem item : any.from()) {
        if (item instanceof DerivedUse derived
            && (around || theirs.readBefore().contains(derived.alias().toLowerCase(Locale.ROOT)))) {
          read.add(derived.use());
        }
      }
      for (TableUse use : any.tables()) {
        if (around || theirs.readBefore().stream().anyMatch(name -> isOf(use, name))) {
          read.add(use.use());
        }
        if (theirs.apart().stream().noneMatch(name -> isOf(use, name))) {
          joined.add(use.use());
        }
      }
    }
    int wanted =
        block.tables().stream()
            .filter(use -> isOf(use, index.table()))
            .findFirst()
            .orElseThrow()
            .use();
    return word(analyzer.accessAfter(query, wanted, read, joined).orElseThrow(), asked, index);
  }

  private static boolean isOf(TableUse use, String table) {
    return use.table().equals(Identifier.of(table));
  }

  private static OurWord word(TableAccess access, TestQuery query, TestIndex index) {
    Candidate candidate =
        access.candidates().stream()
            .filter(it -> it.index().get().name().equals(Identifier.of(index.name())))
            .findFirst()
            .orElseThrow();
    List<KeyColumn> key = candidate.index().get().keyColumns();
    List<String> matching = new ArrayList<>();
    for (Expression value : candidate.matching()) {
      String text = value.render();
      for (int i = 0; i < key.size(); i++) {
        if (key.get(i).value().equals(value)) {
          text = index.key().get(i).text();
        }
      }
      matching.add(text);
    }
    return new OurWord(
        matching,
        query.grouped() ? candidate.groupingServed() : candidate.orderServed(),
        access,
        candidate);
  }

  private Table table(TestTable table) {
    List<Column> columns = table.columns().stream().map(Prediction::column).toList();
    List<Index> indexes = new ArrayList<>(table.indexes().stream().map(this::index).toList());
    Table plain =
        new Table(
            Identifier.of(table.name()),
            Optional.empty(),
            columns,
            table.primaryKey().stream().map(Identifier::of).toList(),
            List.of(),
            List.of(),
            PLACE);
    boolean rowNumber =
        TableProfile.isRowNumber(plain, dialect)
            && dialect.storage().appended().value() == Appended.INTEGER_PRIMARY_KEY;
    if (!table.primaryKey().isEmpty() && !rowNumber) {
      indexes.add(
          Index.of(
                  "pk_" + table.name(),
                  table.name(),
                  true,
                  table.primaryKey().stream().map(KeyColumn::ascending).toList(),
                  PLACE)
              .withOrigin(IndexOrigin.PRIMARY_KEY));
    }
    return plain.withIndexes(indexes);
  }

  private static Column column(TestColumn column) {
    return new Column(
        Identifier.of(column.name()),
        ColumnType.of(column.kind().type(), column.kind().family()),
        column.nullable(),
        column.collation().map(it -> it.replace("\"", "")));
  }

  private Index index(TestIndex index) {
    SqlParser sql = new SqlParser(dialect.shortName());
    ExpressionReader reader = ExpressionReader.ofTable();
    return new Index(
        Identifier.of(index.name()),
        Identifier.of(index.table()),
        index.unique(),
        index.key().stream().map(key -> key(key, sql, reader)).toList(),
        index.included().stream().map(Identifier::of).toList(),
        index.predicate().map(it -> Conditions.normalize(reader.predicate(sql.expression(it)))),
        index.predicate(),
        IndexMethod.BTREE,
        false,
        IndexOrigin.CREATE_INDEX,
        PLACE);
  }

  private static KeyColumn key(TestKey key, SqlParser sql, ExpressionReader reader) {
    Expression value =
        key.expression()
            ? reader.expression(sql.expression(key.text()))
            : ColumnRef.self(key.text());
    return new KeyColumn(
        value,
        key.descending(),
        NullOrder.DEFAULT,
        OptionalInt.empty(),
        key.operatorClass(),
        Optional.empty());
  }

  private static Statistics statistics(List<TestTable> tables) {
    Map<Identifier, TableStatistics> result = new HashMap<>();
    for (TestTable table : tables) {
      Map<Identifier, ColumnStatistics> columns = new HashMap<>();
      for (int c = 0; c < table.columns().size(); c++) {
        TestColumn column = table.columns().get(c);
        int position = c;
        List<Integer> values =
            table.rows().stream().map(row -> row[position]).filter(Objects::nonNull).toList();
        double nulls = table.rows().size() - values.size();
        columns.put(
            Identifier.of(column.name()),
            new ColumnStatistics(
                OptionalDouble.of(values.stream().collect(Collectors.toSet()).size()),
                OptionalDouble.of(nulls / table.rows().size()),
                OptionalDouble.empty(),
                Optional.empty(),
                Optional.empty(),
                Map.of(),
                OptionalDouble.empty()));
      }
      result.put(
          Identifier.of(table.name()),
          new TableStatistics(
              OptionalDouble.of(table.rows().size()), OptionalDouble.empty(), columns));
    }
    return new Statistics(result);
  }

  /** The tables as given. */
  List<TestTable> tables() {
    return tables;
  }
}
