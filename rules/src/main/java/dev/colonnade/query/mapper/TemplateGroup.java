package dev.colonnade.query.mapper;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A group file of string templates (StringTemplate 4 documentation, "Group file syntax"): templates
 * by name, each with its parameters. What is no template definition is kept as a problem.
 */
public final class TemplateGroup {
  /** No template. */
  public static final TemplateGroup NONE = new TemplateGroup("", name -> Optional.empty());

  /**
   * A template.
   *
   * @param parameters names with what stands for them when nothing is given; null where that is
   *     nothing
   * @param line where its text starts in the file, counted from 1
   */
  record Template(Map<String, String> parameters, String text, int line) {}

  private static final Pattern NAME = Pattern.compile("@?[A-Za-z_][\\w./]*");
  private static final Pattern DEFINED_AS = Pattern.compile("\\s*::=\\s*");
  private static final Pattern NEXT_DEFINITION =
      Pattern.compile("^[A-Za-z_]\\w*\\s*\\([^)\\n]*\\)\\s*::=", Pattern.MULTILINE);
  private static final Pattern HEAD =
      Pattern.compile(
          "group\\b\\s*\\w*\\s*(?::\\s*(?<above>\\w+))?[^;]*;"
              + "|delimiters\\s+\"(?<open>.)\"\\s*,\\s*\"(?<close>.)\""
              + "|import\\s+\"(?<other>[^\"\\n]*)\"");

  /** The quotes of templates: the longer ones first. */
  private static final Map<String, String> QUOTES = new LinkedHashMap<>();

  static {
    QUOTES.put("<<", ">>");
    QUOTES.put("<%", "%>");
    QUOTES.put("\"", "\"");
  }

  private final String text;
  private final Function<String, Optional<TemplateGroup>> others;
  private final List<TemplateGroup> imported = new ArrayList<>();
  private final Map<String, Template> templates = new LinkedHashMap<>();
  private final Map<Integer, String> problems = new LinkedHashMap<>();
  private char open = '<';
  private char close = '>';
  private int at;

  private TemplateGroup(String text, Function<String, Optional<TemplateGroup>> others) {
    this.text = text;
    this.others = others;
  }

  /**
   * Reads a group. Its own templates come before those of the groups that it imports or, as
   * StringTemplate 3 has it, names behind its own name. Never throws; see {@link #problems}.
   *
   * @param others the group of a file that is imported, or of a name without file extension; empty
   *     where there is none
   */
  public static TemplateGroup of(String text, Function<String, Optional<TemplateGroup>> others) {
    TemplateGroup group = new TemplateGroup(text.replace("\r\n", "\n"), others);
    group.read();
    group.imported.forEach(it -> it.templates.forEach(group.templates::putIfAbsent));
    return group;
  }

  /** What could not be read, each an entry. */
  public List<NotUnderstood> problems(String file) {
    List<NotUnderstood> notes = new ArrayList<>();
    problems.forEach(
        (line, reason) -> notes.add(new NotUnderstood(SourceLocation.of(file, line), reason)));
    return notes;
  }

  Optional<Template> find(String name) {
    return Optional.ofNullable(templates.get(name));
  }

  char open() {
    return open;
  }

  char close() {
    return close;
  }

  private void read() {
    while (skipBlanks()) {
      int start = at;
      Matcher head = HEAD.matcher(text).region(at, text.length());
      if (head.lookingAt()) {
        head(head, line(start));
        at = head.end();
      } else if (!definition()) {
        problems.put(line(start), "the template group is not understood here");
        Matcher next = NEXT_DEFINITION.matcher(text);
        at = next.find(Math.min(start + 1, text.length())) ? next.start() : text.length();
      }
    }
  }

  private void head(Matcher head, int line) {
    if (head.group("open") != null) {
      open = head.group("open").charAt(0);
      close = head.group("close").charAt(0);
    }
    String other = head.group("other") == null ? head.group("above") : head.group("other");
    if (other == null) {
      return;
    }
    Optional<TemplateGroup> group = others.apply(other);
    if (group.isEmpty()) {
      problems.put(line, "there is no template group " + other + " to import");
    } else if (group.get().open != open || group.get().close != close) {
      problems.put(line, "the template group " + other + " to import has other delimiters");
    } else {
      imported.add(group.get());
    }
  }

  private int line(int offset) {
    return 1 + (int) text.substring(0, offset).chars().filter(c -> c == '\n').count();
  }

  /** Goes over blanks and comments; false at the end. */
  private boolean skipBlanks() {
    while (at < text.length()) {
      if (text.startsWith("//", at)) {
        at = endOf("\n", at);
      } else if (text.startsWith("/*", at)) {
        at = endOf("*/", at + 2);
      } else if (Character.isWhitespace(text.charAt(at))) {
        at++;
      } else {
        return true;
      }
    }
    return false;
  }

  private int endOf(String mark, int from) {
    int found = text.indexOf(mark, from);
    return found < 0 ? text.length() : found + mark.length();
  }

  private boolean definition() {
    Matcher name = NAME.matcher(text).region(at, text.length());
    if (!name.lookingAt()) {
      return false;
    }
    int end = name.end();
    Map<String, String> parameters = new LinkedHashMap<>();
    while (end < text.length() && text.charAt(end) == ' ') {
      end++;
    }
    if (end < text.length() && text.charAt(end) == '(') {
      int closing = text.indexOf(')', end);
      if (closing < 0) {
        return false;
      }
      parameters(text.substring(end + 1, closing), parameters);
      end = closing + 1;
    }
    Matcher defined = DEFINED_AS.matcher(text).region(end, text.length());
    return defined.lookingAt() && body(name.group(), parameters, defined.end());
  }

  private static void parameters(String list, Map<String, String> parameters) {
    for (String parameter : list.split(",", -1)) {
      String[] sides = parameter.strip().split("\\s*=\\s*", 2);
      if (!sides[0].isEmpty()) {
        parameters.put(sides[0], sides.length == 1 ? null : sides[1]);
      }
    }
  }

  private boolean body(String name, Map<String, String> parameters, int start) {
    for (Map.Entry<String, String> quote : QUOTES.entrySet()) {
      if (text.startsWith(quote.getKey(), start)) {
        int from = start + quote.getKey().length();
        int to = closing(quote.getValue(), from);
        if (to < 0) {
          return false;
        }
        String written = text.substring(from, to);
        boolean inQuotes = quote.getKey().equals("\"");
        String body = inQuotes ? written.replace("\\\"", "\"") : written;
        templates.putIfAbsent(name, new Template(parameters, body, line(from)));
        at = to + quote.getValue().length();
        return true;
      }
    }
    return false;
  }

  /** The first closing quote that no backslash stands before. */
  private int closing(String quote, int from) {
    for (int i = from; i < text.length(); i++) {
      if (text.charAt(i) == '\\') {
        i++;
      } else if (text.startsWith(quote, i)) {
        return i;
      }
    }
    return -1;
  }
}
