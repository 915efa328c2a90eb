package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
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
import org.objectweb.asm.tree.analysis.Frame;

/** What each instruction makes of constant texts. Whatever is not named here makes them unknown. */
final class ConstantTexts extends BasicInterpreter {
  /** What stands in a text for a part of it that is only known at run time. */
  static final String OPEN_PART = "${text}";

  private static final Type TEXT = Type.getType(String.class);
  static final Set<String> BUILDERS = Set.of("java/lang/StringBuilder", "java/lang/StringBuffer");

  private final BiFunction<String, String, Optional<String>> fields;
  private final Predicate<MethodInsnNode> chosen;
  private final Map<Integer, Integer> textParameters;
  private final OwnMethods own;
  private final boolean open;
  private final FollowedResults followed = new FollowedResults();
  private final KnownArrays arrays = new KnownArrays();

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
    this(method, fields, chosen, OwnMethods.UNKNOWN, /* open= */ false);
  }

  /**
   * An interpreter of one way through a method.
   *
   * @param own what methods of the same object do
   * @param open whether a part that is not known leaves the rest of a text known
   */
  ConstantTexts(
      MethodNode method,
      BiFunction<String, String, Optional<String>> fields,
      Predicate<MethodInsnNode> chosen,
      OwnMethods own,
      boolean open) {
    super(ASM9);
    this.fields = fields;
    this.chosen = chosen;
    this.own = own;
    this.open = open;
    this.textParameters = TextCalls.textParameters(method);
  }

  /** What is called on the results of the chosen calls. */
  FollowedResults followed() {
    return followed;
  }

  /** True for a call on a builder, of texts or of statements. */
  static boolean isBuilder(MethodInsnNode call, Frame<BasicValue> frame) {
    int receiver = frame.getStackSize() - Type.getArgumentTypes(call.desc).length - 1;
    return BUILDERS.contains(call.owner)
        || (call.getOpcode() != Opcodes.INVOKESTATIC
            && frame.getStack(receiver) instanceof ConstantText known
            && known.kind() == Kind.CLAUSES);
  }

  /** What a builder holds after a call on it. */
  BasicValue changed(ConstantText builder, MethodInsnNode call, List<BasicValue> arguments) {
    Type[] types = Type.getArgumentTypes(call.desc);
    if (builder.kind() == Kind.CLAUSES) {
      return builder.holding(told(builder.texts(), call, types, arguments));
    }
    if (builder.kind() != Kind.BUILDER || builder.texts().isEmpty()) {
      return BasicValue.REFERENCE_VALUE;
    }
    boolean starts = call.name.equals("<init>");
    if (starts && (types.length == 0 || types[0].getSort() == Type.INT)) {
      return builder;
    }
    Set<String> after = Set.of();
    if ((call.name.equals("append") || starts) && types.length == 1) {
      after = TextValues.joined(builder.texts(), written(arguments.get(0), types[0]));
    } else if (call.name.equals("insert") && TextValues.isZero(arguments.get(0))) {
      after = TextValues.joined(written(arguments.get(1), types[1]), builder.texts());
    } else if (open) {
      after =
          TextValues.each(
              builder.texts(),
              text -> TextCalls.shortened(text, call.name, TextValues.numbers(arguments)));
    }
    return builder.holding(after);
  }

  /** What a builder of statements holds after a call on it. */
  private Set<String> told(
      Set<String> before, MethodInsnNode call, Type[] types, List<BasicValue> arguments) {
    if (call.name.equals("<init>")) {
      return TextValues.joined(
          before, ClauseTexts.isBuilder(call.owner) ? Set.of("") : own.constructed(call));
    }
    if (call.name.equals("getSelf")) {
      return before;
    }
    if (ClauseTexts.APPLIED.containsKey(call.name)) {
      return TextValues.perhaps(before, applied(call, arguments.get(arguments.size() - 1)));
    }
    if (!ClauseTexts.isKnown(call.name)) {
      return Set.of();
    }
    Set<String> result = TextValues.joined(before, Set.of(ClauseTexts.call(call.name)));
    for (int i = 0; i < types.length; i++) {
      result =
          TextValues.joined(result, ClauseTexts.arguments(told(call, types[i], arguments.get(i))));
    }
    return result;
  }

  /** What a lambda tells the builder that it is given; none where that is not known. */
  private Set<String> applied(MethodInsnNode call, BasicValue lambda) {
    if (lambda instanceof ConstantText known
        && known.kind() == Kind.LAMBDA
        && known.identity() instanceof InvokeDynamicInsnNode made) {
      MethodInsnNode body = TextValues.body(made);
      int builder = Type.getArgumentTypes(body.desc).length - ClauseTexts.APPLIED.get(call.name);
      return builder < 0 ? Set.of() : own.appended(body, builder);
    }
    return Set.of();
  }

  private Set<String> told(MethodInsnNode call, Type type, BasicValue argument) {
    if (type.getSort() == Type.ARRAY) {
      return open && arrays.contains(argument)
          ? Set.of(String.join(ClauseTexts.BETWEEN, arrays.elements(argument)))
          : written(argument, type);
    }
    Set<String> known = TextValues.known(argument, type);
    return known.isEmpty() && ClauseTexts.takesNumber(call.name)
        ? Set.of(ClauseTexts.ANY_NUMBER)
        : written(argument, type);
  }

  /** What a builder holds after it was given to a method. */
  BasicValue handed(ConstantText builder, MethodInsnNode call, int argument) {
    Set<String> after = TextValues.joined(builder.texts(), own.appended(call, argument));
    return builder.holding(after);
  }

  /** A constant as it is written when appended as that type; none where it is not known. */
  private Set<String> written(BasicValue value, Type type) {
    Set<String> known = TextValues.known(value, type);
    return known.isEmpty() && open ? Set.of(OPEN_PART) : known;
  }

  /** An object is known by its class, except on single ways, of which there are many. */
  @Override
  public BasicValue newValue(Type type) {
    return !open && type != null && type.getSort() == Type.OBJECT
        ? new BasicValue(type)
        : super.newValue(type);
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
      return TextValues.number(code - Opcodes.ICONST_0);
    }
    if (code == Opcodes.BIPUSH || code == Opcodes.SIPUSH) {
      return TextValues.number(((IntInsnNode) instruction).operand);
    }
    if (instruction instanceof LdcInsnNode constant) {
      ConstantText known = TextValues.constant(constant.cst);
      if (known != null) {
        return known;
      }
    }
    if (instruction instanceof FieldInsnNode field
        && code == Opcodes.GETSTATIC
        && field.desc.equals(TEXT.getDescriptor())) {
      Optional<String> value = fields.apply(field.owner.replace('/', '.'), field.name);
      if (value.isPresent()) {
        return TextValues.text(value.get());
      }
    }
    if (instruction instanceof FieldInsnNode field && SortTexts.isConstant(field)) {
      return TextValues.text(field.name);
    }
    if (instruction instanceof TypeInsnNode type && code == Opcodes.NEW) {
      if (BUILDERS.contains(type.desc)) {
        return TextValues.builder(instruction);
      }
      if (ClauseTexts.isBuilder(type.desc) || own.buildsStatements(type.desc)) {
        return TextValues.clauses(instruction);
      }
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
    if (instruction.getOpcode() == Opcodes.ANEWARRAY) {
      return arrays.made(instruction, value);
    }
    return instruction.getOpcode() == Opcodes.CHECKCAST && value instanceof ConstantText
        ? value
        : super.unaryOperation(instruction, value);
  }

  @Override
  public BasicValue naryOperation(AbstractInsnNode instruction, List<? extends BasicValue> values)
      throws AnalyzerException {
    if (instruction instanceof InvokeDynamicInsnNode dynamic
        && dynamic.bsm.getOwner().equals("java/lang/invoke/StringConcatFactory")) {
      Set<String> whole = TextValues.concatenated(dynamic, values, this::written);
      return whole.isEmpty() ? BasicValue.REFERENCE_VALUE : TextValues.text(whole);
    }
    if (open && instruction instanceof InvokeDynamicInsnNode dynamic) {
      BasicValue lambda = TextValues.lambda(dynamic);
      return lambda == null ? super.naryOperation(instruction, values) : lambda;
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
    if (SortTexts.isCall(call)) {
      return SortTexts.after(call, values, arrays);
    }
    boolean onObject = call.getOpcode() != Opcodes.INVOKESTATIC;
    if (onObject && values.get(0) instanceof ConstantText receiver) {
      if (receiver.kind() == Kind.RESULT) {
        followed.note(
            (AbstractInsnNode) receiver.identity(),
            call.name,
            arguments(values),
            TextValues.known(values.get(values.size() - 1), TEXT));
        return TextCalls.returnsAlike(call) ? receiver : null;
      }
      if (receiver.kind() == Kind.PARAMETER && call.name.equals("toString")) {
        return receiver;
      }
      if (receiver.kind() == Kind.BUILDER) {
        return switch (call.name) {
          case "toString" -> TextValues.text(receiver.texts());
          case "length" ->
              receiver.single() == null ? null : TextValues.number(receiver.single().length());
          case "append", "insert", "deleteCharAt", "delete" ->
              changed(receiver, call, List.copyOf(values.subList(1, values.size())));
          default -> null;
        };
      }
      if (receiver.kind() == Kind.CLAUSES) {
        return call.name.equals("toString")
            ? TextValues.text(TextValues.each(receiver.texts(), ClauseTexts::sql))
            : changed(receiver, call, List.copyOf(values.subList(1, values.size())));
      }
      String value = receiver.single();
      if (value != null && receiver.kind() == Kind.CLASS && values.size() == 1) {
        return switch (call.name) {
          case "getName", "getCanonicalName" -> TextValues.text(value);
          case "getSimpleName" -> TextValues.text(TextCalls.simpleName(value));
          default -> null;
        };
      }
      if (receiver.kind() == Kind.TEXT) {
        BasicValue changed = onText(call, receiver, values);
        if (changed != null) {
          return changed;
        }
      }
    }
    if (open && Type.getReturnType(call.desc).equals(TEXT)) {
      Set<String> texts = TextCalls.isStatic(call) ? made(call, values) : own.givenBack(call);
      if (!texts.isEmpty()) {
        return TextValues.text(texts);
      }
    }
    if (!chosen.test(call) || Type.getReturnType(call.desc).getSort() != Type.OBJECT) {
      return open ? null : TextValues.looked(call, values);
    }
    return new ConstantText(Type.getReturnType(call.desc), Kind.RESULT, Set.of(), call);
  }

  private BasicValue onText(
      MethodInsnNode call, ConstantText receiver, List<? extends BasicValue> values) {
    Set<String> texts =
        call.name.equals("concat")
            ? TextValues.joined(receiver.texts(), written(values.get(1), TEXT))
            : TextValues.each(
                receiver.texts(), text -> TextCalls.changed(text, call.name, arguments(values)));
    if (texts.isEmpty() && open && call.name.equals("formatted")) {
      texts =
          TextValues.each(
              receiver.texts(), text -> TextCalls.formatted(text, arrays.elements(values.get(1))));
    }
    return texts.isEmpty() ? null : TextValues.text(texts);
  }

  /** The texts behind the receiver; null for one that is not known. */
  private static List<String> arguments(List<? extends BasicValue> values) {
    List<String> result = new ArrayList<>();
    for (BasicValue value : values.subList(1, values.size())) {
      result.add(value instanceof ConstantText known ? known.single() : null);
    }
    return result;
  }

  /** What {@code String.format}, {@code join} and {@code valueOf} make, and Kotlin's trimming. */
  private Set<String> made(MethodInsnNode call, List<? extends BasicValue> values) {
    BasicValue last = values.get(values.size() - 1);
    BasicValue first = values.get(values.size() == 3 ? 1 : 0);
    boolean known = first instanceof ConstantText text && text.kind() == Kind.TEXT;
    return switch (call.name) {
      case "format" ->
          known
              ? TextValues.each(
                  ((ConstantText) first).texts(),
                  it -> TextCalls.formatted(it, arrays.elements(last)))
              : Set.of();
      case "join" -> {
        String text = known ? ((ConstantText) first).single() : null;
        List<String> parts = arrays.elements(last);
        yield text == null || parts.isEmpty() ? Set.of() : Set.of(String.join(text, parts));
      }
      case "trimIndent" -> TextValues.each(TextValues.known(last, TEXT), String::strip);
      case "valueOf" -> TextValues.known(last, Type.getArgumentTypes(call.desc)[0]);
      default -> Set.of();
    };
  }

  @Override
  public BasicValue ternaryOperation(
      AbstractInsnNode instruction, BasicValue array, BasicValue index, BasicValue value)
      throws AnalyzerException {
    arrays.put(array, index, value);
    return super.ternaryOperation(instruction, array, index, value);
  }

  @Override
  public BasicValue binaryOperation(AbstractInsnNode instruction, BasicValue left, BasicValue right)
      throws AnalyzerException {
    List<Integer> numbers = TextValues.numbers(List.of(left, right));
    return numbers.isEmpty()
        ? super.binaryOperation(instruction, left, right)
        : switch (instruction.getOpcode()) {
          case Opcodes.IADD -> TextValues.number(numbers.get(0) + numbers.get(1));
          case Opcodes.ISUB -> TextValues.number(numbers.get(0) - numbers.get(1));
          default -> super.binaryOperation(instruction, left, right);
        };
  }

  @Override
  public BasicValue merge(BasicValue left, BasicValue right) {
    return TextValues.merged(left, right);
  }
}
