package dev.colonnade.schema.liquibase;

/** A line and column in a changelog file, both counted from 1. */
record Mark(int line, int column) {
  static final Mark START = new Mark(1, 1);

  String encoded() {
    return line + ":" + column;
  }

  static Mark decoded(String text) {
    int colon = text.indexOf(':');
    return new Mark(
        Integer.parseInt(text.substring(0, colon)), Integer.parseInt(text.substring(colon + 1)));
  }
}
