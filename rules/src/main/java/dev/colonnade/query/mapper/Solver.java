package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.Comparison.Operator;
import dev.colonnade.query.mapper.Value.Known;
import dev.colonnade.query.mapper.Value.Ref;
import dev.colonnade.query.mapper.Value.Size;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import ognl.ASTAnd;
import ognl.ASTNot;
import ognl.ASTOr;
import ognl.Node;

/** Finds what must be supposed of the parameters for a test to hold, or not to hold. */
final class Solver {
  /** Ways looked at for one test. */
  private static final int MOST_WAYS = 8;

  /** A value that no test compares with. */
  private static final State ANOTHER = State.of("another value");

  private final Evaluator evaluator;

  Solver(Evaluator evaluator) {
    this.evaluator = evaluator;
  }

  /** Ways to make a test come out so, the simplest first; none where it cannot. */
  List<Map<String, State>> solve(String test, boolean wanted) {
    return evaluator
        .ognl()
        .parse(test)
        .map(node -> solve(node, wanted))
        .orElseGet(() -> List.of(Map.of(test.strip(), truth(wanted))));
  }

  private List<Map<String, State>> solve(Node node, boolean wanted) {
    if (node instanceof ASTNot) {
      return solve(node.jjtGetChild(0), !wanted);
    }
    if (node instanceof ASTAnd || node instanceof ASTOr) {
      boolean together = node instanceof ASTAnd == wanted;
      List<Map<String, State>> ways = together ? List.of(Map.of()) : List.of();
      for (int i = 0; i < node.jjtGetNumChildren(); i++) {
        List<Map<String, State>> child = solve(node.jjtGetChild(i), wanted);
        ways = together ? both(ways, child) : either(ways, child);
      }
      return ways;
    }
    return evaluator
        .comparison(node)
        .map(comparison -> compare(comparison.constantRight(), wanted))
        .orElseGet(() -> truth(evaluator.evaluate(node), wanted));
  }

  /** Every way of one with every way of the other, where they agree. */
  static List<Map<String, State>> both(
      List<Map<String, State>> some, List<Map<String, State>> others) {
    List<Map<String, State>> ways = new ArrayList<>();
    for (Map<String, State> one : some) {
      for (Map<String, State> other : others) {
        merge(one, other).filter(it -> ways.size() < MOST_WAYS).ifPresent(ways::add);
      }
    }
    return ways;
  }

  /**
   * The same ways, with what is only known to be no constant of the choices being another value.
   */
  static List<Map<String, State>> otherwise(List<Map<String, State>> ways) {
    return ways.stream().map(Solver::another).toList();
  }

  private static Map<String, State> another(Map<String, State> way) {
    Map<String, State> result = new TreeMap<>(way);
    result.replaceAll(
        (path, state) ->
            Comparison.isOfElement(path) && state.equals(State.PRESENT) ? ANOTHER : state);
    return result;
  }

  /** What is supposed by both; empty where they contradict each other. */
  static Optional<Map<String, State>> merge(Map<String, State> one, Map<String, State> other) {
    Map<String, State> merged = new TreeMap<>(one);
    for (Map.Entry<String, State> entry : other.entrySet()) {
      State known = merged.get(entry.getKey());
      Optional<State> state =
          known == null ? Optional.of(entry.getValue()) : known.and(entry.getValue());
      if (state.isEmpty()) {
        return Optional.empty();
      }
      merged.put(entry.getKey(), state.get());
    }
    return Optional.of(merged);
  }

  private static List<Map<String, State>> either(
      List<Map<String, State>> some, List<Map<String, State>> others) {
    List<Map<String, State>> ways = new ArrayList<>(some);
    others.stream().limit(Math.max(0, MOST_WAYS - ways.size())).forEach(ways::add);
    return ways;
  }

  private static List<Map<String, State>> truth(Value value, boolean wanted) {
    if (value instanceof Known known) {
      boolean holds = !(known.object() == null || known.object().equals(false));
      return holds == wanted ? List.of(Map.of()) : List.of();
    }
    if (value instanceof Ref ref) {
      return wanted
          ? List.of(Map.of(ref.path(), State.PRESENT))
          : List.of(Map.of(ref.path(), State.ABSENT), Map.of(ref.path(), State.of(false)));
    }
    return List.of(Map.of(((Size) value).path(), truth(wanted)));
  }

  private static State truth(boolean wanted) {
    return wanted ? State.PRESENT : State.ABSENT;
  }

  private static List<Map<String, State>> compare(Comparison comparison, boolean wanted) {
    Operator operator = wanted ? comparison.operator() : comparison.operator().negated();
    if (!(comparison.right() instanceof Known known)) {
      return List.of(Map.of(comparison.text(), truth(wanted)));
    }
    Object other = known.object();
    if (operator == Operator.NOT_EQUAL && comparison.choice().isPresent()) {
      // Of an equality, its own failing makes room for another one; nothing more is supposed.
      boolean asked = comparison.operator() == Operator.NOT_EQUAL;
      return List.of(Map.of(comparison.choice().get(), asked ? ANOTHER : State.PRESENT));
    }
    if (comparison.left() instanceof Ref ref) {
      return unknown(operator, ref.path(), other);
    }
    if (comparison.left() instanceof Size size) {
      return size(operator, size.path(), other);
    }
    Object constant = ((Known) comparison.left()).object();
    return Comparison.holds(operator, constant, other) ? List.of(Map.of()) : List.of();
  }

  private static List<Map<String, State>> unknown(Operator operator, String path, Object other) {
    boolean equal = operator == Operator.EQUAL;
    if (other == null) {
      return List.of(Map.of(path, truth(!equal)));
    }
    if (other instanceof Boolean truth) {
      return List.of(Map.of(path, State.of(truth == equal)));
    }
    if (operator == Operator.NOT_EQUAL) {
      return List.of(Map.of(path, State.PRESENT), Map.of(path, State.ABSENT));
    }
    if (equal && other.equals("")) {
      return List.of(Map.of(path, State.of("")), Map.of(path, State.ABSENT));
    }
    return List.of(Map.of(path, State.of(Comparison.witness(operator, other))));
  }

  private static List<Map<String, State>> size(Operator operator, String path, Object other) {
    if (!(other instanceof Number number)) {
      return List.of(Map.of(path, truth(operator == Operator.NOT_EQUAL)));
    }
    if (Comparison.holds(operator, 0, number)) {
      return List.of(Map.of(path, State.ABSENT));
    }
    if (Comparison.holds(operator, 1, number) && Comparison.holds(operator, 2, number)) {
      return List.of(Map.of(path, State.PRESENT));
    }
    Object size = Comparison.witness(operator, number);
    return List.of(Map.of(path, State.PRESENT, Valuation.sizeOf(path), State.of(size)));
  }
}
