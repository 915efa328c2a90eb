package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.TemplateGroup.Template;
import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads a string template (StringTemplate 4 documentation, "Templates" and "Expressions") into the
 * elements of a mapper's statement: a conditional becomes a choice, an attribute what is left open,
 * a template that is included its text, a list that a template is applied to a repeated part.
 * Conditions mean the same in both: nothing, false and an empty list fail.
 */
final class TemplateParser {
  /** The name of a statement whose parts stand together without blanks. */
  static final String STATEMENT = "template";

  private static final String INDEX = "i0";

  private static final int DEEPEST_NESTING = 30;

  private static final Pattern ATTRIBUTE =
      Pattern.compile("([A-Za-z_][\\w.]*)\\s*(?:;\\s*separator\\s*=\\s*\"[^\"]*\"\\s*)?");
  private static final Pattern INCLUDE = Pattern.compile("([A-Za-z_]\\w*)\\s*\\((.*)\\)");
  private static final Pattern APPLIED =
      Pattern.compile(
          "([A-Za-z_][\\w.]*)\\s*:\\s*(?:\\{\\s*(\\w+)\\s*\\|(.*)}|(\\w+)\\(\\))"
              + "\\s*(?:;\\s*separator\\s*=\\s*\"([^\"]*)\"\\s*)?",
          Pattern.DOTALL);
  private static final Pattern CONDITION =
      Pattern.compile("(?:else)?if\\s*\\((.*)\\)", Pattern.DOTALL);
  private static final Set<String> CONSTANTS = Set.of("true", "false", "null");

  private static final Pattern WORD = Pattern.compile("\"[^\"]*\"|(?<![\\w.])[A-Za-z_]\\w*");

  private final TemplateGroup group;
  private final String text;
  private final int firstLine;
  private final int depth;

  /** What stands for the template's parameters, as expressions. */
  private final Map<String, String> given;

  /** Whether a template of a group is read: it is given nothing but its parameters. */
  private final boolean closed;

  private int at;

  private TemplateParser(
      TemplateGroup group,
      String text,
      int firstLine,
      int depth,
      Map<String, String> given,
      boolean closed) {
    this.closed = closed;
    this.group = group;
    this.text = text;
    this.firstLine = firstLine;
    this.depth = depth;
    this.given = given;
  }

  /**
   * The statement that a text is.
   *
   * @throws UnreadableMapperException where it holds something that is not read
   */
  static Element statement(TemplateGroup group, String text) {
    return statement(
        new TemplateParser(group, text.replace("\r\n", "\n"), 1, 0, Map.of(), /* closed= */ false));
  }

  /**
   * The statement that a template of the group is; its parameters are left open.
   *
   * @param attributes what else it can be given
   */
  static Element statement(TemplateGroup group, Template template, Set<String> attributes) {
    Map<String, String> own = new HashMap<>();
    attributes.forEach(it -> own.put(it, it));
    template.parameters().keySet().forEach(it -> own.put(it, it));
    return statement(
        new TemplateParser(group, template.text(), template.line(), 0, own, /* closed= */ true));
  }

  private static Element statement(TemplateParser parser) {
    List<XmlNode> nodes = parser.nodes(new StringBuilder());
    return new Element(STATEMENT, Map.of(), nodes, parser.firstLine);
  }

  private int line() {
    return firstLine + (int) text.substring(0, at).chars().filter(c -> c == '\n').count();
  }

  private UnreadableMapperException unreadable(String tag) {
    return new UnreadableMapperException(
        "the template expression <" + tag + "> is not read", line());
  }

  /**
   * The nodes up to the end, or to a tag that belongs to a conditional around them.
   *
   * @param stop receives that tag
   */
  private List<XmlNode> nodes(StringBuilder stop) {
    List<XmlNode> nodes = new ArrayList<>();
    StringBuilder literal = new StringBuilder();
    while (at < text.length()) {
      char c = text.charAt(at);
      if (c == '\\' && at + 1 < text.length() && isEscaped(text.charAt(at + 1))) {
        literal.append(text.charAt(at + 1));
        at += 2;
        continue;
      }
      if (c != group.open() || !startsTag()) {
        literal.append(c);
        at++;
        continue;
      }
      if (text.startsWith("!", at + 1)) {
        int end = text.indexOf("!" + group.close(), at);
        at = end < 0 ? text.length() : end + 2;
        continue;
      }
      String tag = tag();
      if (tag.equals("else") || tag.equals("endif") || tag.startsWith("elseif")) {
        stop.append(tag);
        break;
      }
      flush(literal, nodes);
      nodes.addAll(read(tag));
    }
    flush(literal, nodes);
    return nodes;
  }

  private boolean isEscaped(char c) {
    return c == group.open() || c == group.close() || c == '\\';
  }

  /** A sign of comparison that somebody forgot to escape starts nothing. */
  private boolean startsTag() {
    char next = at + 1 < text.length() ? text.charAt(at + 1) : ' ';
    return Character.isLetter(next) || next == '_' || next == '!' || next == '\\' || next == '(';
  }

  private void flush(StringBuilder literal, List<XmlNode> nodes) {
    if (!literal.isEmpty()) {
      nodes.add(new Text(literal.toString(), line()));
      literal.setLength(0);
    }
  }

  /** What stands between the delimiters; delimiters in braces and quotes are part of it. */
  private String tag() {
    int braces = 0;
    boolean quoted = false;
    for (int i = at + 1; i < text.length(); i++) {
      char c = text.charAt(i);
      if (quoted) {
        quoted = c != '"';
      } else if (c == '"' && braces == 0) {
        quoted = true;
      } else if (c == '{') {
        braces++;
      } else if (c == '}') {
        braces--;
      } else if (c == group.close() && braces == 0) {
        String tag = text.substring(at + 1, i).strip();
        at = i + 1;
        return tag;
      }
    }
    throw new UnreadableMapperException("a template expression has no end", line());
  }

  private List<XmlNode> read(String tag) {
    if (tag.startsWith("\\")) {
      return List.of(new Text(tag.contains("n") ? "\n" : " ", line()));
    }
    Matcher condition = CONDITION.matcher(tag);
    if (condition.matches()) {
      return List.of(choice(condition.group(1)));
    }
    Matcher attribute = ATTRIBUTE.matcher(tag);
    if (attribute.matches()) {
      return List.of(new Text(attribute(attribute.group(1)), line()));
    }
    Matcher applied = APPLIED.matcher(tag);
    if (applied.matches()) {
      return List.of(repeated(applied));
    }
    Matcher include = INCLUDE.matcher(tag);
    if (include.matches()) {
      return include(include.group(1), include.group(2));
    }
    throw unreadable(tag);
  }

  private Element choice(String condition) {
    int line = line();
    List<XmlNode> branches = new ArrayList<>();
    String test = condition;
    while (true) {
      StringBuilder stop = new StringBuilder();
      List<XmlNode> nodes = nodes(stop);
      branches.add(
          test == null
              ? new Element("otherwise", Map.of(), nodes, line)
              : new Element("when", Map.of("test", expression(test)), nodes, line));
      String tag = stop.toString();
      if (tag.isEmpty()) {
        throw new UnreadableMapperException("a template's <if> has no end", line);
      }
      if (tag.equals("endif")) {
        return new Element("choose", Map.of(), branches, line);
      }
      Matcher next = CONDITION.matcher(tag);
      test = next.matches() ? next.group(1) : null;
    }
  }

  private String expression(String written) {
    return WORD.matcher(written)
        .replaceAll(
            word -> Matcher.quoteReplacement(given.getOrDefault(word.group(), otherwise(word))));
  }

  private String otherwise(MatchResult word) {
    boolean nothing = closed && !word.group().startsWith("\"") && !CONSTANTS.contains(word.group());
    return nothing ? "null" : word.group();
  }

  private String attribute(String name) {
    int dot = name.indexOf('.');
    String first = dot < 0 ? name : name.substring(0, dot);
    String value = given.get(first);
    if (value == null) {
      return closed ? "" : "${" + name + "}";
    }
    if (value.startsWith("\"") && value.endsWith("\"") && value.length() > 1) {
      return value.substring(1, value.length() - 1);
    }
    return value.equals("null") ? "" : "${" + value + (dot < 0 ? "" : name.substring(dot)) + "}";
  }

  private Element repeated(Matcher applied) {
    String item = applied.group(2);
    List<XmlNode> body;
    if (item != null) {
      body = parse(applied.group(3), line(), counted(given, item));
    } else {
      Template template = template(applied.group(4));
      if (template.parameters().isEmpty()) {
        throw unreadable(applied.group());
      }
      item = template.parameters().keySet().iterator().next();
      body = parse(template.text(), template.line(), counted(Map.of(), item));
    }
    Map<String, String> attributes = new LinkedHashMap<>();
    attributes.put("collection", expression(applied.group(1)));
    attributes.put("item", item);
    attributes.put("index", INDEX);
    attributes.put("separator", applied.group(5) == null ? "" : applied.group(5));
    return new Element("foreach", attributes, body, line());
  }

  /** In a part that is repeated, {@code i0} and {@code i} count from 0 and from 1. */
  private static Map<String, String> counted(Map<String, String> values, String item) {
    Map<String, String> result = new HashMap<>(values);
    result.put(INDEX, INDEX);
    result.put("i", INDEX + " + 1");
    result.put(item, item);
    return result;
  }

  private List<XmlNode> parse(String body, int line, Map<String, String> values) {
    if (depth >= DEEPEST_NESTING) {
      throw new UnreadableMapperException("the templates are nested too deeply", line);
    }
    return new TemplateParser(group, body, line, depth + 1, values, closed)
        .nodes(new StringBuilder());
  }

  private Template template(String name) {
    return group
        .find(name)
        .orElseThrow(
            () ->
                new UnreadableMapperException(
                    "the group holds no template '" + name + "' that is included", line()));
  }

  private List<XmlNode> include(String name, String arguments) {
    Template template = template(name);
    Map<String, String> values = new HashMap<>(given);
    template
        .parameters()
        .forEach((it, byDefault) -> values.put(it, byDefault == null ? "null" : byDefault));
    Iterator<String> positions = template.parameters().keySet().iterator();
    for (String argument : arguments.isBlank() ? new String[0] : arguments.split(",", -1)) {
      String[] sides = argument.strip().split("\\s*=\\s*", 2);
      if (sides.length == 2) {
        values.put(sides[0], expression(sides[1]));
      } else if (positions.hasNext()) {
        values.put(positions.next(), expression(sides[0]));
      } else {
        throw unreadable(name + "(" + arguments + ")");
      }
    }
    return parse(template.text(), template.line(), values);
  }
}
