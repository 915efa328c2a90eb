package dev.colonnade.classfile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.analysis.BasicValue;

/**
 * The orders that Quarkus Panache is given as a {@code Sort}, each as the text of an ORDER BY
 * (Javadoc of {@code io.quarkus.panache.common.Sort}).
 */
final class SortTexts {
  private static final String SORT = "io/quarkus/panache/common/Sort";
  private static final String BETWEEN = ", ";

  private SortTexts() {}

  /** True for a constant that says a direction or where NULL stands. */
  static boolean isConstant(FieldInsnNode field) {
    return field.owner.startsWith(SORT + "$");
  }

  static boolean isCall(MethodInsnNode call) {
    return call.owner.equals(SORT);
  }

  /** What the call gives back; null where that is not known. */
  static BasicValue after(
      MethodInsnNode call, List<? extends BasicValue> values, KnownArrays arrays) {
    List<String> given = new ArrayList<>();
    for (BasicValue value : values) {
      if (arrays.contains(value)) {
        given.addAll(arrays.elements(value));
      } else if (value instanceof ConstantText known && known.single() != null) {
        given.add(known.single());
      } else {
        return null;
      }
    }
    if (given.contains(ConstantTexts.OPEN_PART)) {
      return null;
    }
    String text =
        switch (call.name) {
          case "by" -> call.desc.startsWith("([") ? columns(given, "") : column(given);
          case "ascending" ->
              call.desc.startsWith("([") ? columns(given, "") : directed(given.get(0), "");
          case "descending" ->
              call.desc.startsWith("([")
                  ? columns(given, " desc")
                  : directed(given.get(0), " desc");
          case "direction" -> directed(given.get(0), direction(given.get(1)));
          case "and" ->
              (given.get(0).isEmpty() ? "" : given.get(0) + BETWEEN)
                  + column(given.subList(1, given.size()));
          case "disableEscaping" -> given.get(0);
          case "empty" -> "";
          default -> null;
        };
    return text == null ? null : TextValues.text(Set.of(text));
  }

  private static String columns(List<String> names, String direction) {
    return names.stream().map(name -> name + direction).collect(Collectors.joining(BETWEEN));
  }

  /** A column with what is said of it. */
  private static String column(List<String> given) {
    StringBuilder result = new StringBuilder(given.get(0));
    given.stream().skip(1).map(SortTexts::direction).forEach(result::append);
    return result.toString();
  }

  private static String direction(String constant) {
    return switch (constant) {
      case "Descending" -> " desc";
      case "NULLS_FIRST" -> " nulls first";
      case "NULLS_LAST" -> " nulls last";
      default -> "";
    };
  }

  private static String directed(String order, String direction) {
    return Arrays.stream(order.split(BETWEEN, -1))
        .map(item -> item.replaceFirst("^(.*?)(?: desc)?( nulls .*)?$", "$1" + direction + "$2"))
        .collect(Collectors.joining(BETWEEN));
  }
}
