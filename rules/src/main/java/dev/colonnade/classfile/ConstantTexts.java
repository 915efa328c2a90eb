package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiFunction;
import java.util.function.Predicate;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.IntInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TypeInsnNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicInterpreter;
import org.objectweb.asm.tree.analysis.BasicValue;

/** What each instruction makes of constant texts. Whatever is not named here makes them unknown. */
final class ConstantTexts extends BasicInterpreter {
  /** So many whole texts may meet where branches do. */
  private static final int ALTERNATIVES = 4;

  private static final Type TEXT = Type.getType(String.class);
  private static final Set<String> BUILDERS =
      Set.of("java/lang/StringBuilder", "java/lang/StringBuffer");

  private final BiFunction<String, String, Optional<String>> fields;
  private final Predicate<MethodInsnNode> chosen;
  private final Map<Integer, Integer> textParameters;
  private final Map<AbstractInsnNode, Set<String>> calledOn = new HashMap<>();

  /**
   * An interpreter of one method.
   *
   * @param fields the constant text of a static field, by its class's binary name and its own
   * @param chosen the calls whose results are followed
   */
  ConstantTexts(
      MethodNode method,
      BiFunction<String, String, Optional<String>> fields,
      Predicate<MethodInsnNode> chosen) {
    super(ASM9);
    this.fields = fields;
    this.chosen = chosen;
    this.textParameters = textParameters(method);
  }

  /** The numbers of the parameters that are texts, by the local variable they come in. */
  private static Map<Integer, Integer> textParameters(MethodNode method) {
    Map<Integer, Integer> result = new HashMap<>();
    Type[] types = Type.getArgumentTypes(method.desc);
    int local = (method.access & Opcodes.ACC_STATIC) != 0 ? 0 : 1;
    for (int i = 0; i < types.length; i++) {
      if (types[i].equals(TEXT)) {
        result.put(local, i);
      }
      local += types[i].getSize();
    }
    return result;
  }

  /** Names of methods called on what the call gave back. */
  Set<String> calledOn(AbstractInsnNode call) {
    return calledOn.getOrDefault(call, Set.of());
  }

  static boolean isBuilder(String owner) {
    return BUILDERS.contains(owner);
  }

  /** True for methods that leave a builder's text as it is. */
  static boolean leavesBuilder(String method) {
    return Set.of("toString", "length", "isEmpty", "charAt", "indexOf", "capacity")
        .contains(method);
  }

  /** What a builder holds after a call on it. */
  static BasicValue changed(ConstantText builder, MethodInsnNode call, BasicValue argument) {
    Type[] types = Type.getArgumentTypes(call.desc);
    String before = builder.single();
    if (builder.kind() != Kind.BUILDER || before == null) {
      return BasicValue.REFERENCE_VALUE;
    }
    if (call.name.equals("<init>") && (types.length == 0 || types[0].getSort() == Type.INT)) {
      return builder;
    }
    if ((call.name.equals("append") || call.name.equals("<init>")) && types.length == 1) {
      String added = written(argument, types[0]);
      if (added != null) {
        return builder(builder.identity(), before + added);
      }
    }
    return BasicValue.REFERENCE_VALUE;
  }

  private static ConstantText builder(Object identity, String text) {
    return new ConstantText(
        Type.getObjectType("java/lang/StringBuilder"), Kind.BUILDER, Set.of(text), identity);
  }

  /** A constant as it is written when appended as that type; null where it is not known. */
  private static String written(BasicValue value, Type type) {
    if (!(value instanceof ConstantText known) || known.single() == null) {
      return null;
    }
    if (known.kind() == Kind.NUMBER) {
      int number = Integer.parseInt(known.single());
      return switch (type.getSort()) {
        case Type.CHAR -> String.valueOf((char) number);
        case Type.BOOLEAN -> String.valueOf(number != 0);
        case Type.INT, Type.SHORT, Type.BYTE -> known.single();
        default -> null;
      };
    }
    return known.kind() == Kind.TEXT || known.kind() == Kind.BUILDER ? known.single() : null;
  }

  private static ConstantText text(String text) {
    return new ConstantText(TEXT, Kind.TEXT, Set.of(text), null);
  }

  private static ConstantText number(int number) {
    return new ConstantText(Type.INT_TYPE, Kind.NUMBER, Set.of(String.valueOf(number)), null);
  }

  @Override
  public BasicValue newParameterValue(boolean isInstanceMethod, int local, Type type) {
    Integer number = textParameters.get(local);
    return number == null
        ? super.newParameterValue(isInstanceMethod, local, type)
        : new ConstantText(TEXT, Kind.PARAMETER, Set.of(), number);
  }

  @Override
  public BasicValue newOperation(AbstractInsnNode instruction) throws AnalyzerException {
    int code = instruction.getOpcode();
    if (code >= Opcodes.ICONST_M1 && code <= Opcodes.ICONST_5) {
      return number(code - Opcodes.ICONST_0);
    }
    if (code == Opcodes.BIPUSH || code == Opcodes.SIPUSH) {
      return number(((IntInsnNode) instruction).operand);
    }
    if (instruction instanceof LdcInsnNode constant) {
      if (constant.cst instanceof String string) {
        return text(string);
      }
      if (constant.cst instanceof Integer integer) {
        return number(integer);
      }
      if (constant.cst instanceof Type type && type.getSort() == Type.OBJECT) {
        return new ConstantText(
            Type.getType(Class.class), Kind.CLASS, Set.of(type.getClassName()), null);
      }
    }
    if (instruction instanceof FieldInsnNode field
        && code == Opcodes.GETSTATIC
        && field.desc.equals(TEXT.getDescriptor())) {
      Optional<String> value = fields.apply(field.owner.replace('/', '.'), field.name);
      if (value.isPresent()) {
        return text(value.get());
      }
    }
    if (instruction instanceof TypeInsnNode type && code == Opcodes.NEW && isBuilder(type.desc)) {
      return builder(instruction, "");
    }
    return super.newOperation(instruction);
  }

  @Override
  public BasicValue copyOperation(AbstractInsnNode instruction, BasicValue value) {
    return value;
  }

  @Override
  public BasicValue unaryOperation(AbstractInsnNode instruction, BasicValue value)
      throws AnalyzerException {
    return instruction.getOpcode() == Opcodes.CHECKCAST && value instanceof ConstantText
        ? value
        : super.unaryOperation(instruction, value);
  }

  @Override
  public BasicValue naryOperation(AbstractInsnNode instruction, List<? extends BasicValue> values)
      throws AnalyzerException {
    if (instruction instanceof InvokeDynamicInsnNode dynamic
        && dynamic.bsm.getOwner().equals("java/lang/invoke/StringConcatFactory")) {
      String whole = concatenated(dynamic, values);
      return whole == null ? BasicValue.REFERENCE_VALUE : text(whole);
    }
    if (instruction instanceof MethodInsnNode call) {
      BasicValue known = call(call, values);
      if (known != null) {
        return known;
      }
    }
    return super.naryOperation(instruction, values);
  }

  private BasicValue call(MethodInsnNode call, List<? extends BasicValue> values) {
    boolean onObject = call.getOpcode() != Opcodes.INVOKESTATIC;
    if (onObject && values.get(0) instanceof ConstantText receiver) {
      if (receiver.kind() == Kind.RESULT) {
        calledOn
            .computeIfAbsent((AbstractInsnNode) receiver.identity(), it -> new TreeSet<>())
            .add(call.name);
        return returnsAlike(call) ? receiver : null;
      }
      if (receiver.kind() == Kind.BUILDER) {
        return call.name.equals("toString")
            ? text(receiver.single())
            : call.name.equals("append") ? changed(receiver, call, values.get(1)) : null;
      }
      String value = receiver.single();
      if (value != null && receiver.kind() == Kind.CLASS && values.size() == 1) {
        return switch (call.name) {
          case "getName", "getCanonicalName" -> text(value);
          case "getSimpleName" -> text(value.substring(simpleStart(value)));
          default -> null;
        };
      }
      if (value != null && receiver.kind() == Kind.TEXT) {
        return onText(call, value, values);
      }
    }
    return chosen.test(call) && Type.getReturnType(call.desc).getSort() == Type.OBJECT
        ? new ConstantText(Type.getReturnType(call.desc), Kind.RESULT, Set.of(), call)
        : null;
  }

  private static int simpleStart(String className) {
    return Math.max(className.lastIndexOf('.'), className.lastIndexOf('$')) + 1;
  }

  private static BasicValue onText(
      MethodInsnNode call, String value, List<? extends BasicValue> values) {
    if (call.name.equals("concat")) {
      String added = written(values.get(1), TEXT);
      return added == null ? null : text(value + added);
    }
    if (values.size() != 1) {
      return null;
    }
    return switch (call.name) {
      case "toString", "intern" -> text(value);
      case "trim", "strip" -> text(value.strip());
      case "stripIndent" -> text(value.stripIndent());
      default -> null;
    };
  }

  /** True where a chain of calls goes on with the same query: its methods give it back. */
  private static boolean returnsAlike(MethodInsnNode call) {
    String type = Type.getReturnType(call.desc).getInternalName();
    return type.endsWith("Query") || type.equals(call.owner) || type.endsWith("Spec");
  }

  /** The text under the recipe of {@code makeConcatWithConstants} (StringConcatFactory, JDK). */
  private static String concatenated(
      InvokeDynamicInsnNode dynamic, List<? extends BasicValue> values) {
    Type[] types = Type.getArgumentTypes(dynamic.desc);
    String recipe =
        dynamic.name.equals("makeConcat")
            ? "\1".repeat(values.size())
            : String.valueOf(dynamic.bsmArgs[0]);
    StringBuilder result = new StringBuilder();
    int argument = 0;
    int constant = 1;
    for (int i = 0; i < recipe.length(); i++) {
      char c = recipe.charAt(i);
      if (c == '\1') {
        String part = written(values.get(argument), types[argument]);
        argument++;
        if (part == null) {
          return null;
        }
        result.append(part);
      } else if (c == '\2') {
        result.append(dynamic.bsmArgs[constant++]);
      } else {
        result.append(c);
      }
    }
    return result.toString();
  }

  @Override
  public BasicValue merge(BasicValue left, BasicValue right) {
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
        return both.equals(one.texts()) ? one : new ConstantText(TEXT, Kind.TEXT, both, null);
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
