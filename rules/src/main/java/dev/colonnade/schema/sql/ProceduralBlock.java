package dev.colonnade.schema.sql;

import dev.colonnade.schema.sql.GuardedStatement.Guard;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Set;

/**
 * Finds the statements in a block of PL/SQL, PL/pgSQL or SQL/PSM, and what stands around each.
 * Declarations are passed over.
 */
final class ProceduralBlock {
  private enum Frame {
    BLOCK,
    CONDITION,
    OTHERWISE,
    LOOP,
    HANDLER
  }

  private static final Set<String> LOOPS = Set.of("FOR", "WHILE", "FOREACH", "LOOP", "REPEAT");

  private final List<SqlToken> tokens;
  private final List<GuardedStatement> statements = new ArrayList<>();
  private final Deque<Frame> frames = new ArrayDeque<>();
  private final boolean caught;
  private int conditionEnd;
  private int at;

  private ProceduralBlock(List<SqlToken> tokens) {
    this.tokens = tokens;
    this.caught = tokens.stream().anyMatch(token -> token.is("EXCEPTION") || token.is("HANDLER"));
  }

  /** The statements of a block that starts with DECLARE or BEGIN. */
  static List<GuardedStatement> statements(List<SqlToken> tokens) {
    ProceduralBlock block = new ProceduralBlock(tokens);
    while (block.at < tokens.size()) {
      block.step();
    }
    return block.statements;
  }

  private boolean looksAt(String word) {
    return at < tokens.size() && tokens.get(at).is(word);
  }

  private void step() {
    if (looksAt(";")) {
      at++;
    } else if (looksAt("DECLARE") && frames.isEmpty()) {
      skipTo("BEGIN");
    } else if (looksAt("BEGIN")) {
      at++;
      frames.push(Frame.BLOCK);
      at += looksAt("ATOMIC") ? 1 : 0;
    } else if (looksAt("IF")) {
      open(Frame.CONDITION, "THEN");
      conditionEnd = Math.min(at, tokens.size());
    } else if (looksAt("CASE")) {
      open(Frame.OTHERWISE, "THEN");
    } else if (looksAt("ELSIF") || looksAt("ELSEIF") || looksAt("WHEN")) {
      otherwise();
      skipBehind("THEN");
    } else if (looksAt("ELSE")) {
      otherwise();
      at++;
    } else if (looksAt("EXCEPTION")) {
      at++;
      frames.poll();
      frames.push(Frame.HANDLER);
    } else if (looksAt("END")) {
      frames.poll();
      skipTo(";");
    } else if (LOOPS.stream().anyMatch(this::looksAt)) {
      loop();
    } else {
      simple();
    }
  }

  private void open(Frame frame, String end) {
    frames.push(frame);
    skipBehind(end);
  }

  /** The branch behind ELSE, ELSIF or WHEN; behind a WHEN of EXCEPTION the handler goes on. */
  private void otherwise() {
    if (frames.peek() == Frame.CONDITION) {
      frames.poll();
      frames.push(Frame.OTHERWISE);
    }
  }

  private void loop() {
    frames.push(Frame.LOOP);
    if (looksAt("LOOP") || looksAt("REPEAT")) {
      at++;
      return;
    }
    while (at < tokens.size() && !looksAt("LOOP") && !looksAt("DO")) {
      at++;
    }
    at++;
  }

  private void skipTo(String word) {
    while (at < tokens.size() && !looksAt(word)) {
      at++;
    }
  }

  private void skipBehind(String word) {
    skipTo(word);
    at++;
  }

  private void simple() {
    int start = at;
    skipTo(";");
    statements.add(
        new GuardedStatement(tokens.subList(start, at), guard(), tokens.subList(0, conditionEnd)));
  }

  private Guard guard() {
    if (frames.contains(Frame.HANDLER)) {
      return Guard.HANDLER;
    }
    if (frames.contains(Frame.LOOP)) {
      return Guard.LOOP;
    }
    if (frames.contains(Frame.OTHERWISE)) {
      return Guard.OTHERWISE;
    }
    if (frames.contains(Frame.CONDITION)) {
      return Guard.CONDITION;
    }
    return caught ? Guard.CAUGHT : Guard.NONE;
  }
}
