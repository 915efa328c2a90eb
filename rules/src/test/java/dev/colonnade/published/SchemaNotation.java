package dev.colonnade.published;

import dev.colonnade.dialect.Dialect;
import dev.colonnade.dialect.Storage.Appended;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.schema.Column;
import dev.colonnade.schema.ColumnType;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexMethod;
import dev.colonnade.schema.IndexOrigin;
import dev.colonnade.schema.KeyColumn;
import dev.colonnade.schema.NullOrder;
import dev.colonnade.schema.Schema;
import dev.colonnade.schema.Table;
import dev.colonnade.schema.TypeFamily;
import dev.colonnade.sql.ExpressionReader;
import dev.colonnade.sql.SqlParser;
import dev.colonnade.statistics.TableProfile;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A schema from a short notation: {@code table t(a int not null, b, primary key (a))} and {@code
 * index ix on t(b desc, lower(c)) include (d) where b > 0 using hash}. A column without a type is a
 * nullable integer; an index without a table belongs to the last one. The primary key's index is
 * named {@code pk}, and is left out where the database has none.
 */
public final class SchemaNotation {
  private static final SourceLocation HERE = SourceLocation.of("published.cases");
  private static final Pattern INDEX =
      Pattern.compile(
          "(index|unique) (\\w+)(?: on (\\w+))?\\((.*?)\\)"
              + "(?: include \\(([^)]*)\\))?(?: using (\\w+))?(?: where (.*))?");
  private static final Pattern PREFIX = Pattern.compile("(\\w+)\\((\\d+)\\)");
  private static final Pattern SUFFIX =
      Pattern.compile(
          "(.*?) (asc|desc|nulls first|nulls last|collate \\w+|\\w+_pattern_ops)",
          Pattern.CASE_INSENSITIVE);

  private final Dialect dialect;
  private final Map<String, Table> tables = new LinkedHashMap<>();
  private String last = "";

  private SchemaNotation(Dialect dialect) {
    this.dialect = dialect;
  }

  /** The schema on a database. */
  public static Schema read(List<String> definitions, Dialect dialect) {
    SchemaNotation notation = new SchemaNotation(dialect);
    for (String definition : definitions) {
      if (definition.startsWith("table ")) {
        notation.table(definition.substring("table ".length()));
      } else if (!definition.startsWith("statistics ")) {
        notation.index(definition);
      }
    }
    return new Schema(notation.tables.values(), List.of());
  }

  private void table(String text) {
    int open = text.indexOf('(');
    String name = text.substring(0, open);
    List<Column> columns = new ArrayList<>();
    List<Identifier> key = new ArrayList<>();
    for (String part : parts(text.substring(open + 1, text.length() - 1))) {
      if (part.startsWith("primary key ")) {
        String list = part.substring(part.indexOf('(') + 1, part.length() - 1);
        parts(list).forEach(column -> key.add(Identifier.of(column)));
      } else {
        columns.add(column(part));
      }
    }
    tables.put(
        name,
        new Table(Identifier.of(name), Optional.empty(), columns, key, List.of(), List.of(), HERE));
    last = name;
    if (!key.isEmpty()) {
      primaryKey(tables.get(name));
    }
  }

  private void primaryKey(Table table) {
    boolean inOrder =
        dialect.storage().keepsRowsInPrimaryKeyOrder(TableProfile.isRowNumber(table, dialect));
    if (inOrder && dialect.storage().appended().value() == Appended.INTEGER_PRIMARY_KEY) {
      return;
    }
    List<KeyColumn> key =
        table.primaryKey().stream().map(c -> KeyColumn.ascending(c.text())).toList();
    Index index =
        new Index(
            Identifier.of("pk"),
            table.name(),
            true,
            key,
            List.of(),
            Optional.empty(),
            Optional.empty(),
            IndexMethod.BTREE,
            inOrder,
            IndexOrigin.PRIMARY_KEY,
            HERE);
    add(table, index);
  }

  private void add(Table table, Index index) {
    List<Index> indexes = new ArrayList<>(table.indexes());
    indexes.add(index);
    tables.put(table.name().text(), table.withIndexes(indexes));
  }

  private static Column column(String text) {
    String rest = text;
    Optional<String> collation = Optional.empty();
    int collate = rest.indexOf(" collate ");
    if (collate >= 0) {
      collation = Optional.of(rest.substring(collate + " collate ".length()).replace("\"", ""));
      rest = rest.substring(0, collate);
    }
    boolean nullable = !rest.endsWith(" not null");
    rest = nullable ? rest : rest.substring(0, rest.length() - " not null".length());
    int space = rest.indexOf(' ');
    String name = space < 0 ? rest : rest.substring(0, space);
    String type = space < 0 ? "integer" : rest.substring(space + 1);
    return new Column(Identifier.of(name), type(type), nullable, collation);
  }

  private static ColumnType type(String text) {
    Matcher matcher = Pattern.compile("(\\w+)(?:\\((\\d+)(?:,(\\d+))?\\))?").matcher(text);
    if (!matcher.matches()) {
      throw new IllegalArgumentException("type " + text);
    }
    return new ColumnType(
        text, family(matcher.group(1)), number(matcher.group(2)), number(matcher.group(3)));
  }

  private static OptionalInt number(String digits) {
    return digits == null ? OptionalInt.empty() : OptionalInt.of(Integer.parseInt(digits));
  }

  private static TypeFamily family(String type) {
    return switch (type) {
      case "int", "integer" -> TypeFamily.INTEGER;
      case "bigint" -> TypeFamily.BIG_INTEGER;
      case "smallint" -> TypeFamily.SMALL_INTEGER;
      case "decimal" -> TypeFamily.DECIMAL;
      case "real" -> TypeFamily.FLOAT;
      case "text", "varchar", "char" -> TypeFamily.TEXT;
      case "boolean" -> TypeFamily.BOOLEAN;
      case "date" -> TypeFamily.DATE;
      case "datetime" -> TypeFamily.TIMESTAMP;
      case "inet" -> TypeFamily.OTHER;
      default -> throw new IllegalArgumentException("type " + type);
    };
  }

  private void index(String text) {
    Matcher matcher = INDEX.matcher(text);
    if (!matcher.matches()) {
      throw new IllegalArgumentException(text);
    }
    String table = matcher.group(3) == null ? last : matcher.group(3);
    Optional<String> where = Optional.ofNullable(matcher.group(7));
    List<Identifier> included =
        matcher.group(5) == null
            ? List.of()
            : parts(matcher.group(5)).stream().map(Identifier::of).toList();
    add(
        tables.get(table),
        new Index(
            Identifier.of(matcher.group(2)),
            Identifier.of(table),
            matcher.group(1).equals("unique"),
            parts(matcher.group(4)).stream().map(this::keyColumn).toList(),
            included,
            where.map(this::predicate),
            where,
            method(Optional.ofNullable(matcher.group(6)).orElse("btree")),
            false,
            IndexOrigin.CREATE_INDEX,
            HERE));
  }

  private Predicate predicate(String text) {
    SqlParser parser = new SqlParser(dialect.shortName());
    return ExpressionReader.ofTable().predicate(parser.expression(text));
  }

  private static IndexMethod method(String name) {
    return switch (name) {
      case "btree" -> IndexMethod.BTREE;
      case "hash" -> IndexMethod.HASH;
      case "reverse" -> IndexMethod.REVERSE;
      default -> IndexMethod.SPECIAL;
    };
  }

  private KeyColumn keyColumn(String text) {
    boolean descending = false;
    NullOrder nulls = NullOrder.DEFAULT;
    Optional<String> collation = Optional.empty();
    Optional<String> operatorClass = Optional.empty();
    String rest = text;
    Matcher suffix = SUFFIX.matcher(rest);
    while (suffix.matches()) {
      String word = suffix.group(2).toLowerCase(Locale.ROOT);
      if (word.equals("desc")) {
        descending = true;
      } else if (word.startsWith("nulls")) {
        nulls = word.endsWith("first") ? NullOrder.FIRST : NullOrder.LAST;
      } else if (word.startsWith("collate ")) {
        collation = Optional.of(word.substring("collate ".length()));
      } else if (word.endsWith("_ops")) {
        operatorClass = Optional.of(word);
      }
      rest = suffix.group(1);
      suffix = SUFFIX.matcher(rest);
    }
    Matcher prefix = PREFIX.matcher(rest);
    if (prefix.matches()) {
      return new KeyColumn(
          ColumnRef.self(prefix.group(1)),
          descending,
          nulls,
          number(prefix.group(2)),
          operatorClass,
          collation);
    }
    SqlParser parser = new SqlParser(dialect.shortName());
    return new KeyColumn(
        ExpressionReader.ofTable().expression(parser.expression(rest)),
        descending,
        nulls,
        OptionalInt.empty(),
        operatorClass,
        collation);
  }

  /** The parts between commas that stand in no brackets. */
  private static List<String> parts(String text) {
    List<String> parts = new ArrayList<>();
    int depth = 0;
    int start = 0;
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      depth += c == '(' ? 1 : c == ')' ? -1 : 0;
      if (c == ',' && depth == 0) {
        parts.add(text.substring(start, i).strip());
        start = i + 1;
      }
    }
    parts.add(text.substring(start).strip());
    return parts;
  }
}
