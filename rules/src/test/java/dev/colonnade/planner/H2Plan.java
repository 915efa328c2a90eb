package dev.colonnade.planner;

import dev.colonnade.planner.TestTable.TestIndex;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A plan of H2, which is the statement as the database understood it: the tables of each FROM in
 * the order of reading, each with the index and its conditions in a comment.
 *
 * <p>Read are the queries as they stand; what a comment says of the inside of a derived table or
 * view, planned once more under the conditions from outside, is not.
 */
final class H2Plan {
  private static final Pattern TABLE =
      Pattern.compile(
          "(?:\"PUBLIC\"\\.)?\"(?<table>\\w+)\"(?:\\s+\"(?<alias>\\w+)\")?(?:\\s*/\\*"
              + " PUBLIC\\.(?<index>\\w+)(?<rest>:| \\*/))?");
  private static final Pattern QUOTED = Pattern.compile("'(?:[^']|'')*'|\"[^\"]*\"");
  private static final Pattern WORD = Pattern.compile("\\w+");
  private static final Pattern ALIAS = Pattern.compile("\\)\\s*\"(\\w+)\"");

  private final String text;
  private final BenchmarkIndexes indexes;
  private final List<Block> blocks = new ArrayList<>();
  private final Deque<Level> levels = new ArrayDeque<>();
  private boolean tableComes;

  private H2Plan(String text, BenchmarkIndexes indexes) {
    this.text = text;
    this.indexes = indexes;
  }

  private static final class Block {
    private final List<String> aliases = new ArrayList<>();
    private final List<PlannedScan> scans = new ArrayList<>();
  }

  /** What is open between two brackets; a derived table belongs to the block around it. */
  private static final class Level {
    private Block block;
    private final boolean derived;

    Level(Block block, boolean derived) {
      this.block = block;
      this.derived = derived;
    }
  }

  static PlannedQuery read(String text, BenchmarkIndexes indexes) {
    H2Plan plan = new H2Plan(text, indexes);
    plan.levels.push(new Level(null, false));
    for (int at = 0; at < text.length(); ) {
      at = plan.step(at);
    }
    List<PlannedScan> scans = new ArrayList<>();
    plan.blocks.forEach(
        block -> block.scans.forEach(scan -> scans.add(scan.withJoined(block.aliases))));
    Optional<String> first =
        plan.blocks.stream().findFirst().flatMap(block -> block.aliases.stream().findFirst());
    return new PlannedQuery(scans, first, text);
  }

  /** Reads what stands at a place and returns the place behind it. */
  private int step(int at) {
    char c = text.charAt(at);
    if (text.startsWith("/*", at)) {
      return H2Planner.endOfComment(text, at);
    }
    if (c == '(') {
      levels.push(new Level(levels.element().block, tableComes));
    } else if (c == ')') {
      return close(at);
    } else if (c == '"' && tableComes) {
      return table(at);
    } else if (c == '\'' || c == '"') {
      Matcher quoted = QUOTED.matcher(text).region(at, text.length());
      return quoted.lookingAt() ? quoted.end() : at + 1;
    } else if (Character.isLetterOrDigit(c)) {
      Matcher word = WORD.matcher(text).region(at, text.length());
      if (word.lookingAt()) {
        word(word.group());
        return word.end();
      }
    }
    return at + 1;
  }

  private void word(String word) {
    switch (word) {
      case "SELECT" -> {
        Block block = new Block();
        blocks.add(block);
        levels.element().block = block;
        tableComes = false;
      }
      case "FROM", "JOIN" -> tableComes = true;
      default -> {
        // Any other word changes nothing.
      }
    }
  }

  private int close(int at) {
    Level level = levels.pop();
    Matcher alias = ALIAS.matcher(text).region(at, text.length());
    if (level.derived && alias.lookingAt()) {
      levels.element().block.aliases.add(alias.group(1));
      return alias.end();
    }
    return at + 1;
  }

  private int table(int at) {
    tableComes = false;
    Matcher table = TABLE.matcher(text).region(at, text.length());
    if (!table.lookingAt()) {
      return at + 1;
    }
    Block block = levels.element().block;
    String alias = table.group("alias") == null ? table.group("table") : table.group("alias");
    int end = table.end();
    if (table.group("index") != null) {
      String conditions = "";
      if (table.group("rest").equals(":")) {
        int comment = text.indexOf("/*", at);
        int close = H2Planner.endOfComment(text, comment);
        conditions = text.substring(end, close - "*/".length());
        end = close;
      }
      scan(block, alias, table.group("table"), table.group("index"), conditions);
    }
    block.aliases.add(alias);
    return end;
  }

  private void scan(Block block, String alias, String table, String name, String conditions) {
    if (name.equals(table) || conditions.strip().equals("FALSE")) {
      return; // the rows themselves, or nothing at all
    }
    Optional<TestIndex> index = indexes.find(name, table);
    index.ifPresent(
        it ->
            block.scans.add(
                new PlannedScan(
                    alias,
                    it.name(),
                    H2Planner.prefix(H2Planner.clauses(conditions), it).columns(),
                    Optional.empty(),
                    block.aliases,
                    List.of())));
  }
}
