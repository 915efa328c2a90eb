package dev.colonnade.query.mapper;

import java.io.StringReader;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import ognl.ASTAdd;
import ognl.ASTChain;
import ognl.ASTConst;
import ognl.ASTMethod;
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

  /**
   * The text that an expression puts together, with <code>${...}</code> for what is not known of
   * it; empty where it is no text of which a part is known.
   */
  static Optional<String> text(Node node) {
    StringBuilder text = new StringBuilder();
    boolean known = false;
    for (Node part : parts(node)) {
      if (part instanceof ASTConst constant) {
        known |= constant.getValue() instanceof String || constant.getValue() instanceof Character;
        text.append(constant(constant));
      } else {
        text.append("${").append(part.toString().replace("}", "")).append('}');
      }
    }
    return known ? Optional.of(text.toString()) : Optional.empty();
  }

  /** What {@code +} and {@code concat} join. */
  private static List<Node> parts(Node node) {
    List<Node> parts = new ArrayList<>();
    if (node instanceof ASTAdd) {
      for (int i = 0; i < node.jjtGetNumChildren(); i++) {
        parts.addAll(parts(node.jjtGetChild(i)));
      }
    } else if (node instanceof ASTChain
        && node.jjtGetChild(0) instanceof ASTConst
        && isConcat(node.jjtGetChild(1))) {
      parts.add(node.jjtGetChild(0));
      for (int i = 1; i < node.jjtGetNumChildren() && isConcat(node.jjtGetChild(i)); i++) {
        parts.addAll(parts(node.jjtGetChild(i).jjtGetChild(0)));
      }
    } else {
      parts.add(node);
    }
    return parts;
  }

  private static boolean isConcat(Node node) {
    return node instanceof ASTMethod method
        && method.getMethodName().equals("concat")
        && method.jjtGetNumChildren() == 1;
  }

  /** The constant that a node is, with characters as strings, as everybody means them. */
  static Object constant(ASTConst node) {
    Object value = node.getValue();
    return value instanceof Character ? value.toString() : value;
  }
}
