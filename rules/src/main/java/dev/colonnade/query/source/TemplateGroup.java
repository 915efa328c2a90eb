package dev.colonnade.query.source;

import dev.colonnade.query.source.JdbiTexts.Text;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A group file of StringTemplate, as far as SQL in it is written (StringTemplate 4 documentation,
 * "Group file syntax", "Expressions"): templates in {@code <<...>>} or quotes, {@code <name>},
 * {@code <if(name)>}, {@code <else>}, {@code <endif>} and templates called from others. A condition
 * becomes an optional part of a script; whatever else stands in a template makes it unknown.
 */
final class TemplateGroup {
  static final TemplateGroup EMPTY = new TemplateGroup(Map.of());

  private static final Pattern DEFINITION =
      Pattern.compile(
          "^\\s*(\\w+)\\s*\\([^)]*\\)\\s*::=\\s*(?:<<(.*?)>>|\"((?:[^\"\\\\]|\\\\.)*)\")",
          Pattern.DOTALL | Pattern.MULTILINE);
  private static final Pattern COMMENT = Pattern.compile("<!.*?!>", Pattern.DOTALL);
  private static final Pattern EXPRESSION =
      Pattern.compile(
          "<(?:(?<if>if\\s*\\(\\s*!?\\s*[\\w.]+\\s*\\))|(?<else>else)|(?<endif>endif)"
              + "|(?<call>\\w+)\\s*\\([^)<>]*\\)"
              + "|(?<name>[A-Za-z_][\\w.]*)\\s*(?:;[^<>]*)?)>");

  /** The head of an expression that is none of the known ones; a bare {@code <} is escaped. */
  private static final Pattern UNKNOWN = Pattern.compile("<[A-Za-z_][\\w.]*\\s*[:({]");

  private static final int DEEPEST_CALL = 8;

  private final Map<String, String> templates;

  private TemplateGroup(Map<String, String> templates) {
    this.templates = templates;
  }

  /** The templates of a group file. */
  static TemplateGroup read(String text) {
    Map<String, String> templates = new LinkedHashMap<>();
    Matcher definition = DEFINITION.matcher(COMMENT.matcher(text).replaceAll(""));
    while (definition.find()) {
      String body = definition.group(2) == null ? definition.group(3) : definition.group(2);
      templates.put(definition.group(1), body.strip());
    }
    return new TemplateGroup(templates);
  }

  boolean holds(String name) {
    return templates.containsKey(name);
  }

  /** The template as a script. */
  Text template(String name) {
    return render(templates.get(name));
  }

  /** A text that is written as a template of this group. */
  Text render(String template) {
    try {
      StringBuilder script = new StringBuilder();
      render(template, script, 0);
      boolean optional = script.indexOf("<choose>") >= 0;
      return Text.of(optional ? "<script>" + script + "</script>" : unescaped(script.toString()));
    } catch (UnknownTemplateException e) {
      return Text.problem("its template holds " + e.getMessage() + ", which is not understood");
    }
  }

  private void render(String template, StringBuilder script, int depth) {
    if (depth > DEEPEST_CALL) {
      throw new UnknownTemplateException("a template that calls itself");
    }
    Matcher expression = EXPRESSION.matcher(template);
    Deque<String> closing = new ArrayDeque<>();
    int done = 0;
    while (expression.find()) {
      append(script, template.substring(done, expression.start()));
      done = expression.end();
      if (expression.group("if") != null) {
        // Whether the value is there is all that such a condition asks.
        String condition = expression.group("if").replaceAll("^if\\s*\\(|[\\s)]", "");
        script.append("<choose><when test=\"").append(test(condition)).append("\">");
        closing.push("</when></choose>");
      } else if (expression.group("else") != null) {
        close(closing, expression.group());
        script.append("</when><otherwise>");
        closing.push("</otherwise></choose>");
      } else if (expression.group("endif") != null) {
        script.append(close(closing, expression.group()));
      } else if (expression.group("call") != null) {
        call(expression.group("call"), script, depth);
      } else {
        script.append("${").append(expression.group("name")).append('}');
      }
    }
    append(script, template.substring(done));
    if (!closing.isEmpty()) {
      throw new UnknownTemplateException("<if> without <endif>");
    }
  }

  private static String close(Deque<String> closing, String expression) {
    if (closing.isEmpty()) {
      throw new UnknownTemplateException(expression + " without <if>");
    }
    return closing.pop();
  }

  private void call(String name, StringBuilder script, int depth) {
    String called = templates.get(name);
    if (called == null) {
      throw new UnknownTemplateException("a call of " + name);
    }
    render(called, script, depth + 1);
  }

  private static String test(String condition) {
    return condition.startsWith("!") ? condition.substring(1) + " == null" : condition + " != null";
  }

  private static void append(StringBuilder script, String text) {
    Matcher unknown = UNKNOWN.matcher(text);
    if (unknown.find()) {
      throw new UnknownTemplateException(unknown.group());
    }
    script.append(
        text.replace("\\<", "<")
            .replace("\\>", ">")
            .replace("&", "&amp;")
            .replace("<", "&lt;")
            .replace(">", "&gt;"));
  }

  private static String unescaped(String text) {
    return text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
  }

  private static final class UnknownTemplateException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UnknownTemplateException(String message) {
      super(message);
    }
  }
}
