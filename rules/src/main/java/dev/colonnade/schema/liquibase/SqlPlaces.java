package dev.colonnade.schema.liquibase;

import dev.colonnade.location.SourceLocation;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.IntFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Finds the place in a file of a piece of SQL that came out of it: the line of the file, at or
 * behind the place of the change, that has the same text. Where parameters were expanded and no
 * line has the text, the next line that starts alike stands, or else the place found before.
 */
final class SqlPlaces implements IntFunction<SourceLocation> {
  private final String sql;
  private final String[] lines;
  private final SourceLocation change;
  private final TreeMap<Integer, SourceLocation> found = new TreeMap<>();

  /**
   * Places of a piece of SQL.
   *
   * @param lines the lines of the file that it came out of
   * @param change the place of the change in that file
   */
  SqlPlaces(String sql, String[] lines, SourceLocation change) {
    this.sql = sql;
    this.lines = lines;
    this.change = change;
  }

  @Override
  public SourceLocation apply(int offset) {
    SourceLocation known = found.get(offset);
    if (known != null) {
      return known;
    }
    Map.Entry<Integer, SourceLocation> before = found.floorEntry(offset);
    SourceLocation start = before == null ? change : before.getValue();
    String wanted = restOfLine(offset);
    SourceLocation place = start;
    boolean exact = false;
    boolean same = before != null && sql.substring(before.getKey(), offset).indexOf('\n') < 0;
    for (int i = start.line() - 1; !wanted.isEmpty() && i < lines.length; i++) {
      int from = same && i == start.line() - 1 ? start.column() - 1 : 0;
      int column = lines[i].indexOf(wanted, Math.min(from, lines[i].length()));
      if (column >= 0) {
        place = new SourceLocation(change.file(), i + 1, column + 1, change.changeSet());
        exact = true;
        break;
      }
    }
    if (!exact && !same) {
      place = likeness(offset, start).orElse(start);
    }
    found.put(offset, place);
    return place;
  }

  /**
   * The next line that starts with the same two words; the rest of it was put in for parameters.
   */
  private Optional<SourceLocation> likeness(int offset, SourceLocation after) {
    String[] words = restOfLine(offset).split("\\s+", 3);
    if (words.length < 3) {
      return Optional.empty();
    }
    Pattern start =
        Pattern.compile(
            "^\\s*" + Pattern.quote(words[0]) + "\\s+" + Pattern.quote(words[1]) + "\\b");
    for (int i = after.line(); i < lines.length; i++) {
      Matcher line = start.matcher(lines[i]);
      if (line.find() && lines[i].contains("${")) {
        int column = lines[i].indexOf(words[0]) + 1;
        return Optional.of(new SourceLocation(change.file(), i + 1, column, change.changeSet()));
      }
    }
    return Optional.empty();
  }

  private String restOfLine(int offset) {
    int end = offset;
    while (end < sql.length() && sql.charAt(end) != '\n' && sql.charAt(end) != '\r') {
      end++;
    }
    return offset < end ? sql.substring(offset, end).strip() : "";
  }
}
