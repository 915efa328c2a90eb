package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The texts that matter among those that a dynamic statement can become: with every optional part,
 * with none, with each on its own and what it depends on; and where parts are few, with each
 * combination of them.
 */
final class Variants {
  /** Variants of one statement; further ones are left out, and that is said. */
  static final int MOST_VARIANTS = 64;

  /** Characters of all variants of one statement; where its text is long, fewer are looked at. */
  static final int MOST_CHARACTERS = 60_000;

  /** Variants that are looked at however long they are. */
  static final int LEAST_VARIANTS = 8;

  /** Optional parts up to which all their combinations are taken. */
  private static final int FEW_PARTS = 4;

  /** Texts that come out the same do not count as variants; the search still ends. */
  private static final int MOST_ATTEMPTS = 400;

  private final Element statement;
  private final Set<String> databaseIds;
  private final TableNames tables;
  private final Ognl ognl;
  private final Map<String, String> texts = new LinkedHashMap<>();
  private final Set<String> unfinished = new LinkedHashSet<>();
  private final Set<Branch> reached = new HashSet<>();
  private final Deque<Map<String, State>> waiting = new ArrayDeque<>();
  private final Set<Map<String, State>> queued = new HashSet<>();
  private final BoundPatterns patterns = new BoundPatterns();
  private boolean capped;
  private int attempts;
  private int characters;

  private Variants(Element statement, Set<String> databaseIds, TableNames tables, Ognl ognl) {
    this.statement = statement;
    this.tables = tables;
    this.databaseIds = databaseIds;
    this.ognl = ognl;
  }

  /**
   * The variants of a statement without includes.
   *
   * @throws UnreadableMapperException for an element that is none of MyBatis
   */
  static Variants of(Element statement, Set<String> databaseIds, TableNames tables, Ognl ognl) {
    Variants variants = new Variants(statement, databaseIds, tables, ognl);
    variants.find();
    return variants;
  }

  /**
   * The texts, the one with every part first. One that stops in the middle, since a list or every
   * condition is missing, is told only where there is no other: a database refuses it.
   */
  List<String> texts() {
    return List.copyOf(texts.isEmpty() ? unfinished : texts.values());
  }

  /** What is bound to names in it. */
  BoundPatterns patterns() {
    return patterns;
  }

  /** Whether some were left out for their number. */
  boolean capped() {
    return capped;
  }

  private void find() {
    render(Valuation.allPresent());
    List<Decision> decisions = render(Valuation.only(Map.of()));
    List<Map<String, State>> alone = explore(Map.of(), decisions);
    combine(alone);
    while (!waiting.isEmpty() && !capped) {
      Map<String, State> supposed = waiting.poll();
      explore(supposed, render(Valuation.only(supposed)));
    }
  }

  private List<Decision> render(Valuation valuation) {
    attempts++;
    Renderer renderer =
        new Renderer(
            new Evaluator(valuation, databaseIds, ognl),
            branch -> !reached.contains(branch),
            patterns);
    String sql =
        tables.withoutUnknownSchema(
            OpenTexts.withoutUnknownOrder(Whitespace.tidy(renderer.render(statement))));
    if (renderer.setsNothing() || sql.isBlank()) {
      return renderer.decisions();
    }
    if (OpenTexts.isUnfinished(sql)) {
      unfinished.add(sql);
      return renderer.decisions();
    }
    String key = Whitespace.collapse(sql);
    if (!texts.containsKey(key)) {
      if (isFull() || attempts > MOST_ATTEMPTS) {
        capped = true;
      } else {
        texts.put(key, sql);
        characters += sql.length();
      }
    }
    return renderer.decisions();
  }

  private boolean isFull() {
    return texts.size() == MOST_VARIANTS
        || (texts.size() >= LEAST_VARIANTS && characters > MOST_CHARACTERS);
  }

  /** Queues what leads to parts not reached before; gives the first way to each of them. */
  private List<Map<String, State>> explore(Map<String, State> supposed, List<Decision> decisions) {
    decisions.forEach(it -> reached.add(it.branch()));
    List<Map<String, State>> ways = new ArrayList<>();
    for (Decision decision : decisions) {
      if (!reached.add(decision.branch().opposite())) {
        continue;
      }
      boolean first = true;
      for (Map<String, State> more : decision.otherwise()) {
        Map<String, State> all = new LinkedHashMap<>(supposed);
        all.putAll(more);
        if (queued.add(all)) {
          waiting.add(all);
          if (first) {
            ways.add(all);
          }
          first = false;
        }
      }
    }
    return ways;
  }

  private void combine(List<Map<String, State>> parts) {
    if (parts.size() > FEW_PARTS) {
      return;
    }
    for (int mask = 1; mask < 1 << parts.size(); mask++) {
      if (Integer.bitCount(mask) < 2) {
        continue;
      }
      List<Map<String, State>> ways = List.of(Map.of());
      for (int i = 0; i < parts.size(); i++) {
        if ((mask & 1 << i) != 0) {
          ways = Solver.both(ways, List.of(parts.get(i)));
        }
      }
      ways.stream().filter(queued::add).forEach(waiting::add);
    }
  }
}
