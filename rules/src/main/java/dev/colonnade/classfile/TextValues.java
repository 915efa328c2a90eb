package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.function.UnaryOperator;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
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

  /** What a constant of the code is known as; null where it is of another kind. */
  static ConstantText constant(Object constant) {
    if (constant instanceof String string) {
      return text(string);
    }
    if (constant instanceof Integer integer) {
      return number(integer);
    }
    return constant instanceof Type type && type.getSort() == Type.OBJECT
        ? new ConstantText(Type.getType(Class.class), Kind.CLASS, Set.of(type.getClassName()), null)
        : null;
  }

  /** A lambda; null for what else is bound at run time. */
  static ConstantText lambda(InvokeDynamicInsnNode made) {
    return made.bsm.getOwner().equals("java/lang/invoke/LambdaMetafactory")
            && made.bsmArgs[1] instanceof Handle
        ? new ConstantText(Type.getReturnType(made.desc), Kind.LAMBDA, Set.of(), made)
        : null;
  }

  /** The call of the method in which a lambda's body lies. */
  static MethodInsnNode body(InvokeDynamicInsnNode lambda) {
    Handle body = (Handle) lambda.bsmArgs[1];
    boolean isStatic = body.getTag() == Opcodes.H_INVOKESTATIC;
    return new MethodInsnNode(
        isStatic ? Opcodes.INVOKESTATIC : Opcodes.INVOKEVIRTUAL,
        body.getOwner(),
        body.getName(),
        body.getDesc(),
        body.isInterface());
  }

  /** The texts as they are, and each with more behind it; none where that is not known. */
  static Set<String> perhaps(Set<String> texts, Set<String> added) {
    Set<String> result = new LinkedHashSet<>(texts);
    Set<String> longer = joined(texts, added);
    result.addAll(longer);
    return longer.isEmpty() || result.size() > ALTERNATIVES ? Set.of() : result;
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

  /** The text under the recipe of {@code makeConcatWithConstants} (StringConcatFactory, JDK). */
  static Set<String> concatenated(
      InvokeDynamicInsnNode dynamic,
      List<? extends BasicValue> values,
      BiFunction<BasicValue, Type, Set<String>> written) {
    Type[] types = Type.getArgumentTypes(dynamic.desc);
    String recipe =
        dynamic.name.equals("makeConcat")
            ? "\1".repeat(values.size())
            : String.valueOf(dynamic.bsmArgs[0]);
    Set<String> result = Set.of("");
    StringBuilder between = new StringBuilder();
    int argument = 0;
    int constant = 1;
    for (int i = 0; i < recipe.length(); i++) {
      char c = recipe.charAt(i);
      if (c == '\1') {
        result = joined(result, Set.of(between.toString()));
        between.setLength(0);
        result = joined(result, written.apply(values.get(argument), types[argument]));
        argument++;
      } else {
        between.append(c == '\2' ? String.valueOf(dynamic.bsmArgs[constant++]) : c);
      }
    }
    return joined(result, Set.of(between.toString()));
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
