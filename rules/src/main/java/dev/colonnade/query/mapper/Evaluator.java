package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.Comparison.Operator;
import dev.colonnade.query.mapper.Value.Known;
import dev.colonnade.query.mapper.Value.Ref;
import dev.colonnade.query.mapper.Value.Size;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import ognl.ASTAdd;
import ognl.ASTAnd;
import ognl.ASTChain;
import ognl.ASTConst;
import ognl.ASTEq;
import ognl.ASTGreater;
import ognl.ASTGreaterEq;
import ognl.ASTLess;
import ognl.ASTLessEq;
import ognl.ASTMethod;
import ognl.ASTMultiply;
import ognl.ASTNot;
import ognl.ASTNotEq;
import ognl.ASTOr;
import ognl.ASTProperty;
import ognl.ASTRemainder;
import ognl.ASTSubtract;
import ognl.Node;

/**
 * Carries out expressions on what is supposed of the caller's parameters. What an expression of
 * another kind yields is taken for a parameter of its own, named by the expression's text.
 */
final class Evaluator {
  private static final String DATABASE_ID = "_databaseId";
  private static final Set<String> SIZES = Set.of("size", "length");
  private static final Set<String> SAME =
      Set.of("toString", "trim", "toLowerCase", "toUpperCase", "name", "intValue", "booleanValue");

  private final Valuation valuation;
  private final Set<String> databaseIds;
  private final Ognl ognl;
  private final Map<String, Value> bindings = new HashMap<>();

  Evaluator(Valuation valuation, Set<String> databaseIds, Ognl ognl) {
    this.valuation = valuation;
    this.databaseIds = databaseIds;
    this.ognl = ognl;
  }

  Ognl ognl() {
    return ognl;
  }

  Valuation valuation() {
    return valuation;
  }

  /** Gives a name a value, as {@code bind} and {@code foreach} do. */
  void bind(String name, Value value) {
    if (!name.isEmpty()) {
      bindings.put(name, value);
    }
  }

  /** Takes a name back. */
  void release(String name) {
    bindings.remove(name);
  }

  /** What an expression stands for; its text where it is not understood. */
  Value evaluate(String expression) {
    return ognl.parse(expression).map(this::evaluate).orElse(new Ref(expression.strip()));
  }

  /** Whether a test holds. */
  boolean holds(String test) {
    return ognl.parse(test).map(this::holds).orElseGet(() -> truth(new Ref(test.strip())));
  }

  boolean holds(Node test) {
    if (test instanceof ASTAnd) {
      boolean all = true;
      for (int i = 0; i < test.jjtGetNumChildren() && all; i++) {
        all = holds(test.jjtGetChild(i));
      }
      return all;
    }
    if (test instanceof ASTOr) {
      boolean any = false;
      for (int i = 0; i < test.jjtGetNumChildren() && !any; i++) {
        any = holds(test.jjtGetChild(i));
      }
      return any;
    }
    if (test instanceof ASTNot) {
      return !holds(test.jjtGetChild(0));
    }
    Optional<Comparison> comparison = comparison(test);
    return comparison.isPresent() ? compare(comparison.get()) : truth(evaluate(test));
  }

  /** The comparison that a node is; {@code a.equals(b)} and {@code a.isEmpty()} are some. */
  Optional<Comparison> comparison(Node node) {
    Operator operator =
        node instanceof ASTEq
            ? Operator.EQUAL
            : node instanceof ASTNotEq
                ? Operator.NOT_EQUAL
                : node instanceof ASTLess
                    ? Operator.LESS
                    : node instanceof ASTLessEq
                        ? Operator.LESS_OR_EQUAL
                        : node instanceof ASTGreater
                            ? Operator.GREATER
                            : node instanceof ASTGreaterEq ? Operator.GREATER_OR_EQUAL : null;
    if (operator != null) {
      return Optional.of(
          new Comparison(
              operator,
              evaluate(node.jjtGetChild(0)),
              evaluate(node.jjtGetChild(1)),
              node.toString()));
    }
    if (!(node instanceof ASTChain)) {
      return Optional.empty();
    }
    int last = node.jjtGetNumChildren() - 1;
    Node call = node.jjtGetChild(last);
    if (call instanceof ASTMethod method
        && Set.of("equals", "equalsIgnoreCase").contains(method.getMethodName())
        && method.jjtGetNumChildren() == 1) {
      return Optional.of(
          new Comparison(
              Operator.EQUAL, chain(node, last), evaluate(method.jjtGetChild(0)), node.toString()));
    }
    if (nameOf(call).equals("isEmpty") && chain(node, last) instanceof Ref collection) {
      return Optional.of(
          new Comparison(
              Operator.EQUAL, new Size(collection.path()), new Known(0), node.toString()));
    }
    return Optional.empty();
  }

  /** What a node stands for. */
  Value evaluate(Node node) {
    if (node instanceof ASTConst constant) {
      return new Known(Ognl.constant(constant));
    }
    if (node instanceof ASTProperty property && !property.isIndexedAccess()) {
      String name = nameOf(property);
      return bindings.getOrDefault(name, new Ref(name));
    }
    if (node instanceof ASTChain && comparison(node).isEmpty()) {
      return chain(node, node.jjtGetNumChildren());
    }
    if (node instanceof ASTAnd
        || node instanceof ASTOr
        || node instanceof ASTNot
        || comparison(node).isPresent()) {
      return new Known(holds(node));
    }
    return node instanceof ASTAdd
            || node instanceof ASTSubtract
            || node instanceof ASTMultiply
            || node instanceof ASTRemainder
        ? calculate(node)
        : new Ref(node.toString());
  }

  private Value chain(Node chain, int length) {
    Value value = evaluate(chain.jjtGetChild(0));
    for (int i = 1; i < length; i++) {
      value = step(value, chain.jjtGetChild(i));
    }
    return value;
  }

  private static Value step(Value value, Node step) {
    String name = nameOf(step);
    if (value instanceof Ref ref) {
      if (SIZES.contains(name)) {
        return new Size(ref.path());
      }
      if (SAME.contains(name) && step instanceof ASTMethod) {
        return value;
      }
      String text = step.toString();
      return new Ref(ref.path() + (text.startsWith("[") ? "" : ".") + text);
    }
    return step instanceof ASTMethod && SAME.contains(name)
        ? value
        : new Ref(text(value) + "." + step);
  }

  private static String nameOf(Node node) {
    if (node instanceof ASTMethod method) {
      return method.getMethodName();
    }
    return node instanceof ASTProperty property
            && !property.isIndexedAccess()
            && property.jjtGetChild(0) instanceof ASTConst name
        ? String.valueOf(name.getValue())
        : "";
  }

  private Value calculate(Node node) {
    Value result = evaluate(node.jjtGetChild(0));
    for (int i = 1; i < node.jjtGetNumChildren(); i++) {
      Value left = resolve(result);
      Value right = resolve(evaluate(node.jjtGetChild(i)));
      if (!(left instanceof Known a) || !(right instanceof Known b)) {
        return new Ref(node.toString());
      }
      result = calculate(node, a.object(), b.object());
    }
    return result;
  }

  private static Value calculate(Node node, Object left, Object right) {
    if (left instanceof Number a && right instanceof Number b) {
      int x = a.intValue();
      int y = b.intValue();
      if (node instanceof ASTRemainder) {
        return y == 0 ? new Ref(node.toString()) : new Known(x % y);
      }
      return new Known(
          node instanceof ASTAdd ? x + y : node instanceof ASTSubtract ? x - y : x * y);
    }
    return node instanceof ASTAdd && left != null && right != null
        ? new Known(left.toString() + right)
        : new Ref(node.toString());
  }

  /** The constant behind a value, where one is supposed. */
  Value resolve(Value value) {
    if (value instanceof Ref ref) {
      State state = valuation.state(ref.path());
      return state.present()
          ? state.constant() == null ? value : new Known(state.constant())
          : new Known(null);
    }
    if (value instanceof Size size) {
      if (!valuation.state(size.path()).present()) {
        return new Known(0);
      }
      Object number = valuation.state(Valuation.sizeOf(size.path())).constant();
      return number == null ? value : new Known(number);
    }
    return value;
  }

  private boolean truth(Value value) {
    Value resolved = resolve(value);
    if (resolved instanceof Known known) {
      Object object = known.object();
      return object instanceof Boolean truth
          ? truth
          : object instanceof Number number ? number.doubleValue() != 0 : object != null;
    }
    return true;
  }

  private boolean compare(Comparison written) {
    Comparison comparison = written.constantRight();
    comparison.choice().ifPresent(path -> valuation.choose(path, comparison.right()));
    Value left = resolve(comparison.left());
    Value right = resolve(comparison.right());
    if (comparison.left() instanceof Ref ref
        && ref.path().equals(DATABASE_ID)
        && right instanceof Known known
        && known.object() != null) {
      boolean ours = databaseIds.contains(known.object().toString().toLowerCase(Locale.ROOT));
      return ours == (comparison.operator() == Operator.EQUAL);
    }
    if (left instanceof Known a && right instanceof Known b) {
      return Comparison.holds(comparison.operator(), a.object(), b.object());
    }
    if (left instanceof Known && right instanceof Ref) {
      return compare(
          new Comparison(
              comparison.operator().flipped(),
              /* left= */ right,
              /* right= */ left,
              comparison.text()));
    }
    if (!(right instanceof Known known)) {
      return left.equals(right)
          ? comparison.operator() == Operator.EQUAL
          : truth(new Ref(comparison.text()));
    }
    if (known.object() == null) {
      return comparison.operator() == Operator.NOT_EQUAL;
    }
    return left instanceof Size size
        ? compareSize(comparison.operator(), size, known.object())
        : compareUnknown(comparison.operator(), ((Ref) left).path(), known.object());
  }

  /** A collection that is there has elements; how many is supposed where a test asks. */
  private boolean compareSize(Operator operator, Size size, Object other) {
    int several = 2;
    boolean asksForAny =
        Comparison.holds(operator, 1, other) && Comparison.holds(operator, several, other);
    if (!asksForAny) {
      valuation.suppose(Valuation.sizeOf(size.path()), State.of(several));
    }
    return Comparison.holds(operator, several, other);
  }

  private boolean compareUnknown(Operator operator, String path, Object other) {
    if (other instanceof Boolean truth) {
      return truth == (operator == Operator.EQUAL);
    }
    if (operator == Operator.NOT_EQUAL) {
      return true;
    }
    if (operator == Operator.EQUAL && !valuation.everything()) {
      return false;
    }
    valuation.suppose(path, State.of(Comparison.witness(operator, other)));
    return true;
  }

  private static String text(Value value) {
    return value instanceof Known known
        ? String.valueOf(known.object())
        : value instanceof Ref ref ? ref.path() : ((Size) value).path() + ".size";
  }
}
