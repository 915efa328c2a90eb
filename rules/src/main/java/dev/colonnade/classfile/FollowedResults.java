package dev.colonnade.classfile;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.objectweb.asm.tree.AbstractInsnNode;

/** What is called on the results of calls. */
final class FollowedResults {
  private static final String DEFINE = "define";

  private final Map<AbstractInsnNode, Set<String>> names = new HashMap<>();
  private final Map<AbstractInsnNode, Map<String, Set<String>>> defined = new HashMap<>();

  /**
   * Takes note of a call on a result.
   *
   * @param of the call that gave the result back
   * @param method the method called on it
   * @param arguments its arguments as texts, null for one that is not known
   * @param last the texts that its last argument can be
   */
  void note(AbstractInsnNode of, String method, List<String> arguments, Set<String> last) {
    names.computeIfAbsent(of, it -> new TreeSet<>()).add(method);
    if (method.equals(DEFINE) && arguments.get(0) != null) {
      defined.computeIfAbsent(of, it -> new TreeMap<>()).put(arguments.get(0), last);
    }
  }

  /** Names of methods called on what a call gave back. */
  Set<String> names(AbstractInsnNode of) {
    return names.getOrDefault(of, Set.of());
  }

  /** What is defined on what a call gave back, by name; nothing for what is not known. */
  Map<String, Set<String>> defined(AbstractInsnNode of) {
    return defined.getOrDefault(of, Map.of());
  }
}
