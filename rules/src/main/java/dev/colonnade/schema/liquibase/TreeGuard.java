package dev.colonnade.schema.liquibase;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import liquibase.Scope;
import liquibase.change.ChangeFactory;
import liquibase.parser.core.ParsedNode;
import liquibase.parser.core.ParsedNodeException;
import liquibase.precondition.PreconditionFactory;

/**
 * Goes through the tree of a changelog before Liquibase loads it. Takes out what would load classes
 * of the service (custom changes, filters and comparators of includeAll) or stop the reading
 * (unknown change types, preconditions and elements), and what only a rollback needs; adds the
 * places of change sets and changes.
 */
final class TreeGuard {
  /** Children of a change set that are not changes. */
  private static final Set<String> NO_CHANGES =
      Set.of("preConditions", "preconditions", "modifySql", "comment", "changes");

  private static final Set<String> DROPPED = Set.of("rollback", "validCheckSum", "validCheckSums");

  private static final Set<String> CLASS_NAMES =
      Set.of("filter", "resourceFilter", "resourceComparator");

  /** Files of the formats that are read; a name that ends in a parameter may be one. */
  private static final Pattern READ = Pattern.compile("(?is).*(?:\\.(?:xml|ya?ml|json|sql)|\\})");

  private final ReadSession session;
  private final String path;
  private final IdentityHashMap<ParsedNode, Mark> marks;
  private final Set<String> changeTypes;

  /**
   * A guard for one file.
   *
   * @param marks the places of elements, by identity; attributes have none
   */
  TreeGuard(ReadSession session, String path, IdentityHashMap<ParsedNode, Mark> marks) {
    this.session = session;
    this.path = path;
    this.marks = marks;
    this.changeTypes =
        Scope.getCurrentScope().getSingleton(ChangeFactory.class).getDefinedChanges();
  }

  /** The tree that Liquibase may load. */
  ParsedNode guarded(ParsedNode root) throws ParsedNodeException {
    ParsedNode result = new ParsedNode(root.getNamespace(), root.getName());
    for (ParsedNode child : root.getChildren()) {
      topLevel(child, result);
    }
    return result;
  }

  private void topLevel(ParsedNode node, ParsedNode into) throws ParsedNodeException {
    switch (node.getName()) {
      case "changeSet" -> into.addChild(changeSet(node));
      case "include" -> {
        String file = node.getChildValue(null, "file", String.class);
        if (file != null && !READ.matcher(file).matches()) {
          session.note(path, mark(node), "include: format of " + file + " is not read");
          return;
        }
        if (file != null) {
          session.include(path, file, mark(node));
        }
        into.addChild(node);
      }
      case "includeAll" -> into.addChild(includeAll(node));
      case "preConditions" -> into.addChild(preconditions(node));
      case "modifyChangeSets" -> {
        ParsedNode copy = new ParsedNode(node.getNamespace(), node.getName());
        for (ParsedNode child : node.getChildren()) {
          topLevel(child, copy);
        }
        into.addChild(copy);
      }
      case "property", "removeChangeSetProperty" -> into.addChild(node);
      default -> {
        if (node.getChildren().isEmpty()) {
          into.addChild(node);
        } else {
          session.note(path, mark(node), "unknown element " + node.getName());
        }
      }
    }
  }

  private ParsedNode includeAll(ParsedNode node) throws ParsedNodeException {
    ParsedNode copy = new ParsedNode(node.getNamespace(), node.getName());
    for (ParsedNode child : node.getChildren()) {
      if (CLASS_NAMES.contains(child.getName())) {
        session.note(
            path,
            mark(node),
            "includeAll: class "
                + child.getValue()
                + " is not run; every file of the directory is taken, in order of its name");
      } else {
        copy.addChild(child);
      }
    }
    return copy;
  }

  private ParsedNode changeSet(ParsedNode node) throws ParsedNodeException {
    ParsedNode copy = new ParsedNode(node.getNamespace(), node.getName());
    List<Mark> changes = new ArrayList<>();
    children(node, copy, changes);
    ChangeSetMarks encoded = new ChangeSetMarks(mark(node), changes);
    copy.addChild(null, ChangeSetMarks.ATTRIBUTE, encoded.encoded());
    if (node.getValue() != null) {
      copy.setValue(node.getValue());
    }
    return copy;
  }

  private void children(ParsedNode node, ParsedNode into, List<Mark> changes)
      throws ParsedNodeException {
    for (ParsedNode child : node.getChildren()) {
      String name = child.getName();
      if (DROPPED.contains(name)) {
        continue;
      }
      if (name.equals("preConditions") || name.equals("preconditions")) {
        into.addChild(preconditions(child));
      } else if (name.equals("changes")) {
        children(child, into, changes);
      } else if (NO_CHANGES.contains(name) || isAttribute(child)) {
        into.addChild(child);
      } else {
        changes.add(mark(child));
        into.addChild(change(child));
      }
    }
  }

  /** True for what describes the change set itself: a simple value under a name of no change. */
  private boolean isAttribute(ParsedNode child) {
    return !changeTypes.contains(child.getName())
        && child.getChildren().isEmpty()
        && (!marks.containsKey(child) || child.getValue() != null);
  }

  private ParsedNode change(ParsedNode node) throws ParsedNodeException {
    if (node.getName().equals("customChange")) {
      Object type = node.getChildValue(null, "class");
      return unread("custom change " + (type == null ? "" : type + " ") + "is not run");
    }
    if (!changeTypes.contains(node.getName())) {
      return unread("unknown change type " + node.getName());
    }
    return node;
  }

  private static ParsedNode unread(String reason) throws ParsedNodeException {
    return new ParsedNode(null, UnreadChange.NAME).addChild(null, UnreadChange.REASON, reason);
  }

  private ParsedNode preconditions(ParsedNode node) throws ParsedNodeException {
    ParsedNode copy = new ParsedNode(node.getNamespace(), node.getName());
    for (ParsedNode child : node.getChildren()) {
      boolean known = PreconditionFactory.getInstance().create(child.getName()) != null;
      if (Set.of("and", "or", "not", "nestedPreconditions").contains(child.getName())) {
        copy.addChild(preconditions(child));
      } else if (known || child.getChildren().isEmpty()) {
        copy.addChild(child);
      } else {
        copy.addChild(
            new ParsedNode(null, "customPrecondition")
                .addChild(null, "className", child.getName()));
      }
    }
    if (node.getValue() != null) {
      copy.setValue(node.getValue());
    }
    return copy;
  }

  private Mark mark(ParsedNode node) {
    return marks.getOrDefault(node, Mark.START);
  }
}
