package dev.colonnade.classfile;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;

/** What methods of {@code String} and of builders make of a known text (their Javadoc). */
final class TextCalls {
  /** A conversion of {@code java.util.Formatter}. */
  private static final Pattern CONVERSION =
      Pattern.compile("%(?:(\\d+)\\$)?[-#+ 0,(]*\\d*(?:\\.\\d+)?([a-zA-Z%])");

  private TextCalls() {}

  /** Whether a call makes a text with a static method of {@code String} or of Kotlin's library. */
  static boolean isStatic(MethodInsnNode call) {
    return call.getOpcode() == Opcodes.INVOKESTATIC
        && (call.owner.equals("java/lang/String") || call.owner.startsWith("kotlin/text/Strings"));
  }

  /**
   * The text after a call on it; null where that is not known.
   *
   * @param arguments with null for one that is not known
   */
  static String changed(String text, String method, List<String> arguments) {
    if (arguments.contains(null)) {
      return null;
    }
    return switch (arguments.size()) {
      case 0 ->
          switch (method) {
            case "toString", "intern" -> text;
            case "trim", "strip" -> text.strip();
            case "stripIndent" -> text.stripIndent();
            default -> null;
          };
      case 2 -> method.equals("replace") ? text.replace(arguments.get(0), arguments.get(1)) : null;
      default -> null;
    };
  }

  /** What a builder holds after its end was cut off; null for other calls. */
  static String shortened(String text, String method, List<Integer> numbers) {
    int first = numbers.isEmpty() ? -1 : numbers.get(0);
    if (first < 0 || first > text.length()) {
      return null;
    }
    return switch (method) {
      case "setLength" -> text.substring(0, first);
      case "deleteCharAt" ->
          first < text.length() ? new StringBuilder(text).deleteCharAt(first).toString() : null;
      case "delete" ->
          numbers.size() == 2 && first <= numbers.get(1)
              ? new StringBuilder(text).delete(first, numbers.get(1)).toString()
              : null;
      default -> null;
    };
  }

  /** A format with the elements in their places; null where it has more places than elements. */
  static String formatted(String format, List<String> elements) {
    Matcher matcher = CONVERSION.matcher(format);
    StringBuilder result = new StringBuilder();
    int next = 0;
    while (matcher.find()) {
      char conversion = matcher.group(2).charAt(0);
      String part;
      if (conversion == '%') {
        part = "%";
      } else if (conversion == 'n') {
        part = "\n";
      } else {
        int place = matcher.group(1) == null ? next++ : Integer.parseInt(matcher.group(1)) - 1;
        part =
            place < elements.size() && conversion == 's'
                ? elements.get(place)
                : ConstantTexts.OPEN_PART;
      }
      matcher.appendReplacement(result, Matcher.quoteReplacement(part));
    }
    return matcher.appendTail(result).toString();
  }

  /** The name of a class without its package and the classes around it. */
  static String simpleName(String className) {
    return className.substring(
        Math.max(className.lastIndexOf('.'), className.lastIndexOf('$')) + 1);
  }

  /** True where a chain of calls goes on with the same query: its methods give it back. */
  static boolean returnsAlike(MethodInsnNode call) {
    String type = Type.getReturnType(call.desc).getInternalName();
    return type.equals(call.owner)
        || call.name.equals("define")
        || Stream.of("Query", "Spec", "SqlStatement").anyMatch(type::endsWith);
  }

  /** True for methods that leave a builder's text as it is. */
  static boolean leavesBuilder(String method) {
    return Set.of("toString", "length", "isEmpty", "charAt", "indexOf", "capacity")
        .contains(method);
  }

  /**
   * The numbers of the parameters that are texts, by the local variable they come in; builders that
   * a lambda captures, too, where it does no more than take their text.
   */
  static Map<Integer, Integer> textParameters(MethodNode method) {
    Map<Integer, Integer> result = new HashMap<>();
    Type[] types = Type.getArgumentTypes(method.desc);
    boolean builders = method.name.contains("lambda$") && leavesBuilders(method);
    int local = (method.access & Opcodes.ACC_STATIC) != 0 ? 0 : 1;
    for (int i = 0; i < types.length; i++) {
      if (types[i].equals(Type.getType(String.class)) || (builders && isBuilder(types[i]))) {
        result.put(local, i);
      }
      local += types[i].getSize();
    }
    return result;
  }

  /** Whether a method leaves every builder as it is, and gives none to others. */
  private static boolean leavesBuilders(MethodNode method) {
    for (AbstractInsnNode instruction : method.instructions) {
      String descriptor =
          instruction instanceof MethodInsnNode call
              ? call.desc
              : instruction instanceof InvokeDynamicInsnNode made ? made.desc : "()V";
      boolean changes =
          instruction instanceof MethodInsnNode call
              && isBuilder(Type.getObjectType(call.owner))
              && !leavesBuilder(call.name);
      if (changes || Stream.of(Type.getArgumentTypes(descriptor)).anyMatch(TextCalls::isBuilder)) {
        return false;
      }
    }
    return true;
  }

  /** Whether a type is one of the builders of texts. */
  static boolean isBuilder(Type type) {
    return type.getSort() == Type.OBJECT && ConstantTexts.BUILDERS.contains(type.getInternalName());
  }
}
