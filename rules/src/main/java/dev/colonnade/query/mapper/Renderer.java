package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.Value.Known;
import dev.colonnade.query.mapper.Value.Ref;
import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Puts the text of a statement together as MyBatis does (MyBatis 3 reference, "Dynamic SQL"; the
 * order and the blanks of its {@code scripting.xmltags} package), for one supposition about the
 * parameters.
 */
final class Renderer {
  /** {@code where} strips these words only in front of white space. */
  private static final List<String> CONNECTIVES =
      List.of("AND ", "OR ", "AND\n", "OR\n", "AND\r", "OR\r", "AND\t", "OR\t");

  private static final List<String> COMMA = List.of(",");

  private static final Pattern ENTRIES = Pattern.compile("\\b(entrySet|getEntrySet)\\b");

  /** A list has several elements, unless they would become statements of their own. */
  private static final int SEVERAL = 2;

  private final Evaluator evaluator;
  private final Solver solver;
  private final Predicate<Branch> wanted;
  private final BoundPatterns patterns;
  private final List<Decision> decisions = new ArrayList<>();
  private boolean setsNothing;
  private String between = " ";

  /**
   * A renderer.
   *
   * @param wanted the decisions for which it is asked how they could go the other way
   * @param patterns takes what names are bound to
   */
  Renderer(Evaluator evaluator, Predicate<Branch> wanted, BoundPatterns patterns) {
    this.patterns = patterns;
    this.evaluator = evaluator;
    this.solver = new Solver(evaluator);
    this.wanted = wanted;
  }

  /** The text, with {@code ${...}} left where nobody knows what stands there. */
  String render(Element statement) {
    between = statement.name().equals(TemplateParser.STATEMENT) ? "" : " ";
    return children(statement);
  }

  /** What was left out and put in, in order. */
  List<Decision> decisions() {
    return decisions;
  }

  /** Whether an update would set no column: no such statement can be run. */
  boolean setsNothing() {
    return setsNothing;
  }

  private String children(Element element) {
    StringBuilder sql = new StringBuilder();
    for (XmlNode child : element.children()) {
      String part = child instanceof Text text ? text(text.text()) : element((Element) child);
      if (!part.isEmpty()) {
        sql.append(sql.isEmpty() ? "" : between).append(part);
      }
    }
    return sql.toString();
  }

  private String text(String text) {
    return Properties.REFERENCE
        .matcher(text)
        .replaceAll(match -> Matcher.quoteReplacement(inserted(match.group(1), match.group())));
  }

  private String inserted(String expression, String written) {
    Value value = evaluator.evaluate(expression);
    if (value instanceof Known known) {
      return known.object() == null ? "" : known.object().toString();
    }
    if (!(value instanceof Ref ref)) {
      return written;
    }
    Object constant = evaluator.valuation().state(ref.path()).constant();
    if (constant instanceof String supposed) {
      return supposed;
    }
    return ref.path().contains("}") ? written : "${" + ref.path() + "}";
  }

  private String element(Element element) {
    return switch (element.name()) {
      case "if" -> condition(element);
      case "choose" -> choose(element);
      case "where" -> trim(children(element), "WHERE", CONNECTIVES, "", List.of());
      case "set" -> set(element);
      case "trim" ->
          trim(
              children(element),
              element.attribute("prefix"),
              words(element, "prefixOverrides"),
              element.attribute("suffix"),
              words(element, "suffixOverrides"));
      case "foreach" -> foreach(element);
      case "bind" -> {
        String value = element.attribute("value");
        patterns.bind(element.attribute("name"), evaluator.ognl().parse(value).flatMap(Ognl::text));
        evaluator.bind(element.attribute("name"), evaluator.evaluate(value));
        yield "";
      }
      case "selectKey" -> "";
      default ->
          throw new UnreadableMapperException(
              "the element <" + element.name() + "> is not known", element.line());
    };
  }

  private String condition(Element element) {
    String test = element.attribute("test");
    boolean holds = evaluator.holds(test);
    decide(element, holds, () -> solver.solve(test, !holds));
    return holds ? children(element) : "";
  }

  /** Keeps a decision, and what it takes for the opposite where that is of interest. */
  private void decide(
      Element element, boolean taken, Supplier<List<Map<String, State>>> otherwise) {
    Branch opposite = new Branch(element, !taken);
    decisions.add(
        new Decision(
            new Branch(element, taken), wanted.test(opposite) ? otherwise.get() : List.of()));
  }

  private String choose(Element choose) {
    List<String> before = new ArrayList<>();
    Element chosen = null;
    for (Element branch : choose.elements()) {
      String test = branch.name().equals("when") ? branch.attribute("test") : "true";
      boolean taken = chosen == null && evaluator.holds(test);
      List<String> failing = List.copyOf(before);
      boolean last = branch.name().equals("otherwise");
      decide(
          branch,
          taken,
          () ->
              taken
                  ? List.of()
                  : last
                      ? Solver.otherwise(firstToHold(failing, test))
                      : firstToHold(failing, test));
      if (taken) {
        chosen = branch;
      }
      before.add(test);
    }
    return chosen == null ? "" : children(chosen);
  }

  private List<Map<String, State>> firstToHold(List<String> failing, String test) {
    List<Map<String, State>> ways = solver.solve(test, true);
    for (String other : failing) {
      ways = Solver.both(ways, solver.solve(other, false));
    }
    return ways;
  }

  private String set(Element element) {
    String body = children(element);
    setsNothing |= body.isBlank();
    return trim(body, "SET", COMMA, "", COMMA);
  }

  private static List<String> words(Element element, String attribute) {
    String value = element.attribute(attribute);
    return value.isEmpty() ? List.of() : List.of(value.toUpperCase(Locale.ROOT).split("\\|"));
  }

  private static String trim(
      String body, String prefix, List<String> prefixes, String suffix, List<String> suffixes) {
    String sql = body.strip();
    if (sql.isEmpty()) {
      return "";
    }
    String upper = sql.toUpperCase(Locale.ROOT);
    int start =
        prefixes.stream()
            .filter(upper::startsWith)
            .findFirst()
            .map(word -> word.strip().length())
            .orElse(0);
    int end =
        suffixes.stream()
            .filter(word -> upper.endsWith(word) || upper.endsWith(word.strip()))
            .findFirst()
            .map(word -> sql.length() - word.strip().length())
            .orElse(sql.length());
    return (prefix.isEmpty() ? "" : prefix + " ")
        + sql.substring(start, Math.max(start, end))
        + (suffix.isEmpty() ? "" : " " + suffix);
  }

  private String foreach(Element element) {
    Value collection = evaluator.evaluate(element.attribute("collection"));
    String path = collection instanceof Ref ref ? ref.path() : element.attribute("collection");
    String separator = element.attribute("separator");
    if (!isThere(element, path)) {
      return "";
    }
    String item = element.attribute("item");
    String index = element.attribute("index");
    StringBuilder sql = new StringBuilder(element.attribute("open"));
    boolean first = true;
    int count = count(path, separator);
    for (int i = 0; i < count; i++) {
      Ref value = new Ref(path + "[]");
      evaluator.valuation().suppose(value.path(), State.PRESENT);
      evaluator.bind(item, value);
      // Of a map the index is the key, which may be any text.
      evaluator.bind(index, ENTRIES.matcher(path).find() ? new Ref(path + "[].key") : new Known(i));
      String body = children(element);
      if (!body.isBlank()) {
        sql.append(first ? " " : " " + separator + " ").append(body);
        first = false;
      }
    }
    evaluator.release(item);
    evaluator.release(index);
    return sql.append(' ').append(element.attribute("close")).toString();
  }

  /**
   * A collection that no test asks about has elements where its text would be no SQL without them;
   * one that adds whole clauses, with nothing around or between them, may have none.
   */
  private boolean isThere(Element element, String path) {
    Valuation valuation = evaluator.valuation();
    if (!valuation.isTested(path) && !addsClauses(element)) {
      valuation.suppose(path, State.PRESENT);
    }
    boolean there = valuation.state(path).present();
    decide(element, there, () -> there ? List.of() : List.of(Map.of(path, State.PRESENT)));
    return there;
  }

  private static boolean addsClauses(Element foreach) {
    return List.of("open", "separator", "close").stream()
        .allMatch(it -> foreach.attribute(it).isBlank());
  }

  private int count(String path, String separator) {
    String name = Valuation.sizeOf(path);
    Object known = evaluator.valuation().state(name).constant();
    int count =
        known instanceof Number number
            ? number.intValue()
            : separator.isBlank() || separator.strip().equals(";") ? 1 : SEVERAL;
    evaluator.valuation().suppose(name, State.of(count));
    return Math.min(count, SEVERAL);
  }
}
