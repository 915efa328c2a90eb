package dev.colonnade.query.source;

import java.util.ArrayList;
import java.util.List;

/**
 * The words and signs of a Kotlin source with their places; comments are passed over, a literal is
 * one token (Kotlin language specification, "Lexical grammar").
 */
final class KotlinTokens {
  /** What a token is. */
  enum Kind {
    WORD,
    STRING,
    SIGN
  }

  /**
   * One token.
   *
   * @param text a word without backticks, a literal with its quotes, a sign of one character
   * @param offset where it begins, counted from 0
   * @param firstOfLine true where nothing but blanks and comments stands before it on its line
   */
  record Token(Kind kind, String text, int offset, boolean firstOfLine) {
    boolean is(String sign) {
      return kind != Kind.STRING && text.equals(sign);
    }
  }

  private final String source;
  private final List<Token> tokens = new ArrayList<>();
  private int at;
  private boolean fresh = true;

  private KotlinTokens(String source) {
    this.source = source;
  }

  /** The tokens of the source; what is not closed reaches to its end. */
  static List<Token> read(String source) {
    KotlinTokens reader = new KotlinTokens(source);
    while (reader.at < source.length()) {
      reader.next();
    }
    return reader.tokens;
  }

  private void next() {
    char c = source.charAt(at);
    if (c == '\n') {
      fresh = true;
      at++;
    } else if (Character.isWhitespace(c)) {
      at++;
    } else if (source.startsWith("//", at)) {
      int end = source.indexOf('\n', at);
      at = end < 0 ? source.length() : end;
    } else if (source.startsWith("/*", at)) {
      at = afterComment(at);
    } else if (c == '"') {
      add(Kind.STRING, afterString(at));
    } else if (c == '\'') {
      add(Kind.STRING, afterCharacter(at));
    } else if (c == '`') {
      int end = source.indexOf('`', at + 1);
      int after = end < 0 ? source.length() : end + 1;
      add(Kind.WORD, after);
    } else if (Character.isJavaIdentifierPart(c)) {
      int end = at;
      while (end < source.length() && Character.isJavaIdentifierPart(source.charAt(end))) {
        end++;
      }
      add(Kind.WORD, end);
    } else {
      add(Kind.SIGN, at + 1);
    }
  }

  private void add(Kind kind, int end) {
    String text = source.substring(at, end);
    tokens.add(new Token(kind, kind == Kind.WORD ? text.replace("`", "") : text, at, fresh));
    fresh = false;
    at = end;
  }

  /** Comments stand in comments. */
  private int afterComment(int start) {
    int depth = 0;
    int i = start;
    while (i < source.length()) {
      if (source.startsWith("/*", i)) {
        depth++;
        i += 2;
      } else if (source.startsWith("*/", i)) {
        depth--;
        i += 2;
        if (depth == 0) {
          return i;
        }
      } else {
        i++;
      }
    }
    return i;
  }

  private int afterCharacter(int start) {
    int i = start + 1;
    while (i < source.length() && source.charAt(i) != '\'' && source.charAt(i) != '\n') {
      i += source.charAt(i) == '\\' ? 2 : 1;
    }
    return Math.min(i + 1, source.length());
  }

  /** A text of one line or of several, with expressions in it that may hold texts again. */
  private int afterString(int start) {
    boolean raw = source.startsWith("\"\"\"", start);
    int i = start + (raw ? 3 : 1);
    while (i < source.length()) {
      char c = source.charAt(i);
      if (source.startsWith("${", i)) {
        i = afterExpression(i + 2);
      } else if (raw && source.startsWith("\"\"\"", i)) {
        i += 3;
        while (i < source.length() && source.charAt(i) == '"') {
          i++;
        }
        return i;
      } else if (!raw && (c == '"' || c == '\n')) {
        return i + 1;
      } else {
        i += !raw && c == '\\' ? 2 : 1;
      }
    }
    return source.length();
  }

  private int afterExpression(int start) {
    int depth = 1;
    int i = start;
    while (i < source.length() && depth > 0) {
      char c = source.charAt(i);
      if (c == '"') {
        i = afterString(i);
        continue;
      }
      depth += c == '{' ? 1 : c == '}' ? -1 : 0;
      i++;
    }
    return i;
  }
}
