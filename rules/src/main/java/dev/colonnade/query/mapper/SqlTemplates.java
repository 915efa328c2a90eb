package dev.colonnade.query.mapper;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads statements with attributes in angle brackets, as Jdbi's template engines do (Jdbi 3
 * developer guide, "Template engines"), into the texts that they can become.
 */
public final class SqlTemplates {
  /** {@code <name>}, or a bracket that is escaped. */
  private static final Pattern DEFINED = Pattern.compile("\\\\([<>])|<([A-Za-z_]\\w*)>");

  /** What is quoted or commented out, or a backslash with the sign behind it. */
  private static final Pattern ESCAPED =
      Pattern.compile(
          "('(?:\\\\'|[^'])*'|\"(?:\\\\\"|[^\"])*\"|--[^\\n]*|/\\*.*?\\*/)|\\\\(.)",
          Pattern.DOTALL);

  private final String database;

  /** A reader for the database of Liquibase's short name. */
  public SqlTemplates(String database) {
    this.database = database;
  }

  /**
   * A statement in which attributes stand in angle brackets and nothing else is special.
   *
   * @param attributes what stands for some of them
   */
  public MapperReading plain(
      String id, SourceLocation location, String sql, Map<String, String> attributes) {
    String text =
        DEFINED
            .matcher(sql)
            .replaceAll(
                it ->
                    Matcher.quoteReplacement(
                        it.group(1) != null ? it.group(1) : "${" + it.group(2) + "}"));
    Element statement =
        new Element(TemplateParser.STATEMENT, Map.of(), List.of(new Text(text, 1)), 1);
    return read(id, location, () -> statement, attributes);
  }

  /**
   * The texts that a statement becomes by what is defined for its attributes, at most {@value
   * Variants#MOST_VARIANTS}. A list behind IN stays.
   *
   * @param defined the texts for each name; none where they are not known
   * @param open what stands for an attribute that is not known
   */
  public static List<String> defined(String sql, Map<String, Set<String>> defined, String open) {
    List<String> texts = List.of("");
    Matcher attribute = DEFINED.matcher(sql);
    int done = 0;
    while (attribute.find()) {
      String escaped = attribute.group(1);
      String name = String.valueOf(attribute.group(2));
      if (escaped == null && !defined.containsKey(name) && isList(sql, attribute)) {
        continue;
      }
      Set<String> known = escaped == null ? defined.getOrDefault(name, Set.of()) : Set.of(escaped);
      String before = sql.substring(done, attribute.start());
      texts =
          texts.stream()
              .flatMap(
                  text ->
                      (known.isEmpty() ? Set.of(open) : new TreeSet<>(known))
                          .stream().map(it -> text + before + it))
              .limit(Variants.MOST_VARIANTS)
              .toList();
      done = attribute.end();
    }
    String rest = sql.substring(done);
    return texts.stream().map(text -> text + rest).toList();
  }

  /** Whether an attribute is alone in parentheses. */
  private static boolean isList(String sql, Matcher attribute) {
    return sql.substring(0, attribute.start()).stripTrailing().endsWith("(")
        && sql.substring(attribute.end()).stripLeading().startsWith(")");
  }

  /** A statement that is a string template, which may include templates of the group. */
  public MapperReading template(
      String id,
      SourceLocation location,
      String text,
      TemplateGroup group,
      Map<String, String> attributes) {
    return read(id, location, () -> TemplateParser.statement(group, text), attributes);
  }

  /**
   * The statement that is the template of that name.
   *
   * @param attributes what stands for its parameters and for what else it can be given; anything
   *     else that it names is nothing
   */
  public MapperReading named(
      String id,
      SourceLocation location,
      String name,
      TemplateGroup group,
      Map<String, String> attributes) {
    return read(
        id,
        location,
        () ->
            TemplateParser.statement(
                group,
                group
                    .find(name)
                    .orElseThrow(
                        () ->
                            new UnreadableMapperException(
                                "the group holds no template '" + name + "'", 1)),
                attributes.keySet()),
        attributes);
  }

  private MapperReading read(
      String id,
      SourceLocation location,
      Supplier<Element> statement,
      Map<String, String> attributes) {
    StatementReader reader = new StatementReader(DatabaseIds.of(database), TableNames.NONE);
    try {
      reader.read(
          id,
          location,
          QuerySource.ANNOTATION,
          new Fragments(attributes).expand(Fragments.Source.NONE, statement.get()));
    } catch (UnreadableMapperException e) {
      reader.unanalysed(id, location, e.getMessage() + ", line " + e.line() + " of the template");
    }
    MapperReading reading = reader.result();
    return new MapperReading(
        reading.queries().stream().map(SqlTemplates::sent).toList(),
        reading.unanalysed(),
        reading.notes(),
        reading.withoutText());
  }

  /** Jdbi's parsers of parameters put the sign behind a backslash in the place of both. */
  private static QueryText sent(QueryText text) {
    if (!text.sql().contains("\\")) {
      return text;
    }
    String sql =
        ESCAPED
            .matcher(text.sql())
            .replaceAll(
                it -> Matcher.quoteReplacement(it.group(1) != null ? it.group(1) : it.group(2)));
    return new QueryText(text.id(), text.location(), text.source(), text.text(), sql);
  }
}
