package dev.colonnade.query.mapper;

import java.io.StringReader;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import ognl.ASTConst;
import ognl.Node;
import ognl.OgnlParser;
import ognl.ParseException;
import ognl.TokenMgrError;

/** Parses the expressions of mappers. None is evaluated. */
final class Ognl {
  private final Map<String, Optional<Node>> parsed = new HashMap<>();

  /** The tree of the expression; empty where it is none. Each text is parsed once. */
  Optional<Node> parse(String expression) {
    return parsed.computeIfAbsent(expression, Ognl::tree);
  }

  private static Optional<Node> tree(String expression) {
    try {
      return Optional.of(new OgnlParser(new StringReader(expression)).topLevelExpression());
    } catch (ParseException | TokenMgrError | RuntimeException e) {
      return Optional.empty();
    }
  }

  /** The constant that a node is, with characters as strings, as everybody means them. */
  static Object constant(ASTConst node) {
    Object value = node.getValue();
    return value instanceof Character ? value.toString() : value;
  }
}
