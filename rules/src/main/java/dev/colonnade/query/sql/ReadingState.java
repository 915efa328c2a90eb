package dev.colonnade.query.sql;

import dev.colonnade.dialect.BooleanRules;
import dev.colonnade.dialect.DerivedTableRules;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.query.OuterJoinReading;
import dev.colonnade.query.QueryBlock;
import dev.colonnade.query.sql.ExistsLists.SelectList;
import dev.colonnade.schema.Schema;
import dev.colonnade.sql.ParsedSql;
import dev.colonnade.sql.SqlParser;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import net.sf.jsqlparser.statement.Statement;

/** What is known while one statement is read: numbers given out, blocks finished, views entered. */
final class ReadingState {
  private final Schema schema;
  private final DerivedTableRules derivedTables;
  private final OuterJoinReading outerJoins;
  private final BooleanRules booleans;
  private final Deque<Statement> roots = new ArrayDeque<>();
  private final Map<Integer, List<Set<Expression>>> windows = new TreeMap<>();
  private final Map<Integer, SelectList> listsOfExists = new TreeMap<>();
  private final SqlParser parser;
  private final Names names;
  private final ParsedSql parsed;
  private final Map<Integer, QueryBlock> blocks = new TreeMap<>();
  private final Deque<Identifier> views = new ArrayDeque<>();
  private int lastBlock;
  private int lastUse;

  ReadingState(
      Schema schema,
      SqlParser parser,
      Names names,
      DerivedTableRules derivedTables,
      OuterJoinReading outerJoins,
      BooleanRules booleans,
      ParsedSql parsed) {
    this.schema = schema;
    this.derivedTables = derivedTables;
    this.outerJoins = outerJoins;
    this.booleans = booleans;
    this.roots.addAll(parsed.statements());
    this.parser = parser;
    this.names = names;
    this.parsed = parsed;
  }

  /** Parsed text with the author's placeholders. */
  String placeholder(String text) {
    return parsed.placeholders().restore(text);
  }

  Schema schema() {
    return schema;
  }

  SqlParser parser() {
    return parser;
  }

  Names names() {
    return names;
  }

  int nextBlock() {
    return ++lastBlock;
  }

  int nextUse() {
    return ++lastUse;
  }

  void finished(QueryBlock block) {
    blocks.put(block.number(), block);
  }

  List<QueryBlock> blocks() {
    return List.copyOf(blocks.values());
  }

  /** What the database does with derived tables. */
  DerivedTableRules derivedTables() {
    return derivedTables;
  }

  OuterJoinReading outerJoins() {
    return outerJoins;
  }

  /** What the database does with truth values. */
  BooleanRules booleans() {
    return booleans;
  }

  /** A window function in a block, by the values that partition its rows. */
  void window(int block, Set<Expression> partition) {
    windows.computeIfAbsent(block, unseen -> new ArrayList<>()).add(Set.copyOf(partition));
  }

  /** The window functions of the blocks. */
  Map<Integer, List<Set<Expression>>> windows() {
    return windows;
  }

  /** What the select list of an EXISTS names. */
  void listOfExists(int block, SelectList list) {
    listsOfExists.put(block, list);
  }

  /** The select lists of EXISTS by their blocks. */
  Map<Integer, SelectList> listsOfExists() {
    return listsOfExists;
  }

  /** The statement, or the definition of the view, that is being read. */
  Deque<Statement> roots() {
    return roots;
  }

  /** The views whose definitions are being read, innermost first. */
  Deque<Identifier> views() {
    return views;
  }
}
