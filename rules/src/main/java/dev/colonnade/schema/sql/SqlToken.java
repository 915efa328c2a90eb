package dev.colonnade.schema.sql;

/**
 * One word or sign of SQL text.
 *
 * @param text the word as written, a name without its quotes, a string with them
 * @param start offset of its first character
 * @param end offset behind its last character
 */
record SqlToken(Kind kind, String text, int start, int end) {

  enum Kind {
    /** A keyword or an unquoted name. */
    WORD,
    /** A quoted name. */
    QUOTED,
    /** A character string, dollar-quoted ones included. */
    STRING,
    /** A number. */
    NUMBER,
    /** Anything else, one character at a time. */
    SIGN
  }

  boolean is(String word) {
    return (kind == Kind.WORD || kind == Kind.SIGN) && text.equalsIgnoreCase(word);
  }

  boolean isName() {
    return kind == Kind.WORD || kind == Kind.QUOTED;
  }
}
