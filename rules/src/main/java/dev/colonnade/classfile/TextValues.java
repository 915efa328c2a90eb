package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.analysis.BasicValue;

/** Values whose texts are known, made and put together. */
final class TextValues {
  /** So many whole texts may meet where branches do. */
  static final int ALTERNATIVES = 8;

  private static final Type TEXT = Type.getType(String.class);
  static final Type BUILDER = Type.getObjectType("java/lang/StringBuilder");

  /** Methods of entity managers that give back an object of the class that they are given. */
  private static final Set<String> LOOK_UPS = Set.of("find", "get", "getReference", "load");

  private TextValues() {}

  static boolean isZero(BasicValue value) {
    return value instanceof ConstantText known && "0".equals(known.single());
  }

  /** The arguments as numbers; empty where one is not known. */
  static List<Integer> numbers(List<BasicValue> arguments) {
    List<Integer> numbers = new ArrayList<>();
    for (BasicValue argument : arguments) {
      if (!(argument instanceof ConstantText known) || known.kind() != Kind.NUMBER) {
        return List.of();
      }
      numbers.add(Integer.parseInt(known.single()));
    }
    return numbers;
  }

  static ConstantText builder(Object identity) {
    return new ConstantText(BUILDER, Kind.BUILDER, Set.of(""), identity);
  }

  static ConstantText clauses(Object identity) {
    return new ConstantText(
        Type.getObjectType("java/lang/Object"), Kind.CLAUSES, Set.of(""), identity);
  }

  /** Each text with each of the others behind it; none where they are too many. */
  static Set<String> joined(Set<String> texts, Set<String> added) {
    if (texts.size() * added.size() > ALTERNATIVES) {
      return Set.of();
    }
    Set<String> result = new LinkedHashSet<>();
    texts.forEach(text -> added.forEach(more -> result.add(text + more)));
    return result;
  }

  /** Each text changed; none where one of them cannot be. */
  static Set<String> each(Set<String> texts, UnaryOperator<String> change) {
    Set<String> result = new LinkedHashSet<>();
    for (String text : texts) {
      String changed = change.apply(text);
      if (changed == null) {
        return Set.of();
      }
      result.add(changed);
    }
    return result;
  }

  static Set<String> known(BasicValue value, Type type) {
    if (!(value instanceof ConstantText known)) {
      return Set.of();
    }
    if (known.kind() == Kind.NUMBER) {
      int number = Integer.parseInt(known.single());
      return switch (type.getSort()) {
        case Type.CHAR -> Set.of(String.valueOf((char) number));
        case Type.BOOLEAN -> Set.of(String.valueOf(number != 0));
        case Type.INT, Type.SHORT, Type.BYTE -> known.texts();
        // Boxed: what it is written as depends on the box.
        default -> Set.of();
      };
    }
    if (known.kind() == Kind.CLAUSES) {
      return each(known.texts(), ClauseTexts::sql);
    }
    return known.kind() == Kind.TEXT || known.kind() == Kind.BUILDER ? known.texts() : Set.of();
  }

  static ConstantText text(Set<String> texts) {
    return new ConstantText(TEXT, Kind.TEXT, texts, null);
  }

  static ConstantText text(String text) {
    return text(Set.of(text));
  }

  static ConstantText number(int number) {
    return new ConstantText(Type.INT_TYPE, Kind.NUMBER, Set.of(String.valueOf(number)), null);
  }

  /** What is looked up by a class literal is of that class; null for other calls. */
  static BasicValue looked(MethodInsnNode call, List<? extends BasicValue> values) {
    if (LOOK_UPS.contains(call.name)) {
      for (BasicValue value : values) {
        if (value instanceof ConstantText known && known.kind() == Kind.CLASS) {
          return new BasicValue(Type.getObjectType(known.single().replace('.', '/')));
        }
      }
    }
    return null;
  }

  /** What is known where two branches meet. */
  static BasicValue merged(BasicValue left, BasicValue right) {
    if (left.equals(right)) {
      return left;
    }
    if (left instanceof ConstantText one
        && right instanceof ConstantText other
        && one.kind() == Kind.TEXT
        && other.kind() == Kind.TEXT) {
      Set<String> both = new LinkedHashSet<>(one.texts());
      both.addAll(other.texts());
      if (both.size() <= ALTERNATIVES) {
        return both.equals(one.texts()) ? one : text(both);
      }
    }
    boolean numbers = isInt(left) && isInt(right);
    return numbers
        ? BasicValue.INT_VALUE
        : left.isReference() && right.isReference()
            ? BasicValue.REFERENCE_VALUE
            : BasicValue.UNINITIALIZED_VALUE;
  }

  private static boolean isInt(BasicValue value) {
    return value.getType() != null && value.getType().getSort() == Type.INT;
  }
}
