package dev.colonnade.query.source;

import dev.colonnade.query.source.KotlinTokens.Kind;
import dev.colonnade.query.source.KotlinTokens.Token;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The types of a Kotlin source with their functions and the annotations on them. Only the frame of
 * the source is read; bodies are passed over (Kotlin language specification, "Declarations").
 */
final class KotlinSource {
  /**
   * An annotation.
   *
   * @param name its simple name
   * @param offset where it begins
   * @param arguments the tokens between its parentheses
   */
  record Mark(String name, int offset, List<Token> arguments) {}

  /**
   * A type or a function.
   *
   * @param name a function's name; of a type the binary name
   * @param offset where its name begins
   * @param parameters simple names of a function's parameter types
   */
  record Declared(String name, int offset, List<Mark> marks, List<String> parameters) {}

  /** A type with the functions in it. */
  record TypeFrame(Declared declared, List<Declared> functions) {}

  private static final Set<String> TYPES = Set.of("class", "interface", "object");

  private static final Set<String> MEMBERS = Set.of("val", "var", "import", "init", "typealias");

  private final List<Token> tokens;
  private final Map<String, TypeFrame> types = new HashMap<>();
  private final Deque<String> scopes = new ArrayDeque<>();
  private final List<Mark> marks = new ArrayList<>();
  private String packageName = "";
  private String opened = "";
  private int at;

  private KotlinSource(List<Token> tokens) {
    this.tokens = tokens;
  }

  /** The types of a source by their binary names. */
  static Map<String, TypeFrame> types(String source) {
    KotlinSource reader = new KotlinSource(KotlinTokens.read(source));
    while (reader.at < reader.tokens.size()) {
      reader.next();
    }
    return reader.types;
  }

  private void next() {
    Token token = tokens.get(at);
    boolean inName = is(at - 1, ".") || (is(at - 1, ":") && is(at - 2, ":"));
    if (token.kind() == Kind.SIGN) {
      sign(token);
    } else if (token.kind() == Kind.WORD && !inName && token.text().equals("package")) {
      at++;
      packageName = qualified();
    } else if (token.kind() == Kind.WORD && !inName && TYPES.contains(token.text())) {
      type(token.text());
    } else if (token.kind() == Kind.WORD && !inName && token.text().equals("fun")) {
      function();
    } else {
      if (MEMBERS.contains(token.text())) {
        marks.clear();
        opened = "";
      }
      at++;
    }
  }

  private void sign(Token token) {
    switch (token.text()) {
      case "{" -> {
        scopes.push(opened);
        opened = "";
        marks.clear();
        at++;
      }
      case "}" -> {
        if (!scopes.isEmpty()) {
          scopes.pop();
        }
        opened = "";
        marks.clear();
        at++;
      }
      case "(", "[" -> at = after(at);
      case "@" -> mark();
      default -> at++;
    }
  }

  /** An annotation, perhaps for a part of what follows, such as {@code @get:Column}. */
  private void mark() {
    int offset = tokens.get(at).offset();
    at++;
    if (is(at, "[")) {
      at++;
      return;
    }
    String name = qualified();
    if (is(at, ":")) {
      at++;
      name = qualified();
    }
    if (is(at, "<")) {
      at = after(at);
    }
    List<Token> arguments = List.of();
    if (is(at, "(")) {
      int end = after(at);
      arguments = List.copyOf(tokens.subList(at + 1, Math.max(at + 1, end - 1)));
      at = end;
    }
    if (!name.isEmpty()) {
      marks.add(new Mark(name.substring(name.lastIndexOf('.') + 1), offset, arguments));
    }
  }

  private String qualified() {
    StringBuilder name = new StringBuilder();
    while (at < tokens.size() && tokens.get(at).kind() == Kind.WORD) {
      name.append(tokens.get(at).text());
      at++;
      if (!is(at, ".")) {
        break;
      }
      name.append('.');
      at++;
    }
    return name.toString();
  }

  /** A type; what opens next is its body. */
  private void type(String word) {
    boolean companion = word.equals("object") && is(at - 1, "companion");
    at++;
    boolean named =
        at < tokens.size() && tokens.get(at).kind() == Kind.WORD && !tokens.get(at).firstOfLine();
    if (!named && !companion) {
      return;
    }
    Token name = tokens.get(named ? at : at - 1);
    String simple = named ? name.text() : "Companion";
    at += named ? 1 : 0;
    String outer = scopes.isEmpty() ? "" : scopes.peek();
    String prefix = !outer.isEmpty() ? outer + "$" : packageName.isEmpty() ? "" : packageName + ".";
    if (scopes.isEmpty() || !outer.isEmpty()) {
      opened = prefix + simple;
      Declared declared = new Declared(opened, name.offset(), List.copyOf(marks), List.of());
      types.putIfAbsent(opened, new TypeFrame(declared, new ArrayList<>()));
    }
    marks.clear();
  }

  private void function() {
    at++;
    if (is(at, "interface")) {
      return;
    }
    if (is(at, "<")) {
      at = after(at);
    }
    Token name = null;
    while (at < tokens.size() && !is(at, "(") && !is(at, "{") && !is(at, "}") && !is(at, "=")) {
      if (is(at, "<")) {
        at = after(at);
        continue;
      }
      name = tokens.get(at);
      at++;
    }
    if (name == null || !is(at, "(")) {
      marks.clear();
      return;
    }
    int end = after(at);
    List<String> parameters = parameters(tokens.subList(at + 1, Math.max(at + 1, end - 1)));
    at = end;
    String scope = scopes.isEmpty() ? "" : scopes.peek();
    if (!scope.isEmpty()) {
      types
          .get(scope)
          .functions()
          .add(new Declared(name.text(), name.offset(), List.copyOf(marks), parameters));
    }
    opened = "";
    marks.clear();
  }

  /** The simple name of each parameter's type. */
  private static List<String> parameters(List<Token> tokens) {
    List<String> result = new ArrayList<>();
    int depth = 0;
    String type = "";
    boolean inType = false;
    boolean any = false;
    for (Token token : tokens) {
      if (token.is("(") || token.is("[") || token.is("<")) {
        depth++;
      } else if (token.is(")") || token.is("]") || token.is(">")) {
        depth--;
      } else if (depth == 0 && token.is(",")) {
        result.add(type);
        type = "";
        inType = false;
        any = false;
        continue;
      } else if (depth == 0 && token.is(":") && any) {
        inType = true;
      } else if (depth == 0 && token.is("=")) {
        inType = false;
      } else if (depth == 0 && inType && token.kind() == Kind.WORD) {
        type = token.text();
      }
      any |= depth == 0 && token.kind() == Kind.WORD;
    }
    if (any) {
      result.add(type);
    }
    return result;
  }

  private boolean is(int index, String text) {
    return index >= 0 && index < tokens.size() && tokens.get(index).is(text);
  }

  /** The place behind the bracket that closes the one at the place. */
  private int after(int open) {
    int depth = 0;
    for (int i = open; i < tokens.size(); i++) {
      Token token = tokens.get(i);
      if (token.is("(") || token.is("[") || token.is("{") || (token.is("<") && is(open, "<"))) {
        depth++;
      } else if (token.is(")")
          || token.is("]")
          || token.is("}")
          || (token.is(">") && is(open, "<") && !is(i - 1, "-"))) {
        depth--;
        if (depth == 0) {
          return i + 1;
        }
      }
    }
    return tokens.size();
  }
}
