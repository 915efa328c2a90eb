package dev.colonnade.report;

import java.util.ArrayList;
import java.util.List;

/** Lines of cells, each column as wide as its widest cell, two blanks between. */
final class TextTable {
  private final List<List<String>> rows = new ArrayList<>();

  /** A table with these headings. */
  TextTable(String... headings) {
    rows.add(List.of(headings));
  }

  /** Adds a line. */
  void row(String... cells) {
    if (cells.length != rows.get(0).size()) {
      throw new IllegalArgumentException("a line has as many cells as there are headings");
    }
    rows.add(List.of(cells));
  }

  /** The lines, headings first, without blanks at the ends. */
  List<String> lines() {
    int columns = rows.get(0).size();
    int[] widths = new int[columns];
    for (List<String> row : rows) {
      for (int i = 0; i < columns; i++) {
        widths[i] = Math.max(widths[i], row.get(i).length());
      }
    }
    List<String> lines = new ArrayList<>();
    for (List<String> row : rows) {
      StringBuilder line = new StringBuilder();
      for (int i = 0; i < columns; i++) {
        String cell = row.get(i);
        line.append(cell).append(" ".repeat(widths[i] - cell.length() + 2));
      }
      lines.add(line.toString().stripTrailing());
    }
    return lines;
  }
}
