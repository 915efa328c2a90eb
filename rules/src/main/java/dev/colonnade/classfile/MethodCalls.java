package dev.colonnade.classfile;

import dev.colonnade.classfile.MethodCall.Callee;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.BiFunction;
import java.util.function.IntFunction;
import java.util.function.Predicate;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/**
 * Reads the calls of chosen methods out of one class file, with the constant texts that are given
 * to them. A text is constant where it is written in the code, or put together from constants by
 * {@code +} or a {@code StringBuilder} with no branch in between. Where there are branches, or
 * parts that are not constant, the texts on several ways through the method are given, with {@code
 * ${text}} for a part that is not known. Nothing is loaded or run.
 */
final class MethodCalls {
  private static final Type TEXT = Type.getType(String.class);
  private static final int METHOD = 10;
  private static final int INTERFACE_METHOD = 11;

  private final Predicate<Callee> chosen;
  private final OtherClasses others;
  private final Optional<String> receiver;

  /**
   * A reader.
   *
   * @param chosen which calls matter
   * @param others the other classes of the service
   * @param receiver binary name of the class of the object whose methods are read, where that is
   *     known
   */
  MethodCalls(Predicate<Callee> chosen, OtherClasses others, Optional<String> receiver) {
    this.chosen = chosen;
    this.others = others;
    this.receiver = receiver;
  }

  /**
   * The chosen calls of a class, in the order of its methods and their code.
   *
   * @throws RuntimeException where the bytes are no class file that can be read
   */
  List<MethodCall> in(byte[] classFile) {
    ClassReader reader = new ClassReader(classFile);
    if (!namesChosen(reader)) {
      return List.of();
    }
    ClassNode type = new ClassNode();
    reader.accept(type, ClassReader.SKIP_FRAMES);
    List<MethodCall> calls = new ArrayList<>();
    for (MethodNode method : type.methods) {
      if (hasChosen(method)) {
        read(type, method, calls);
      }
    }
    return calls;
  }

  /** The constant pool tells at once whether a class calls a method at all. */
  private boolean namesChosen(ClassReader reader) {
    char[] buffer = new char[reader.getMaxStringLength()];
    for (int i = 1; i < reader.getItemCount(); i++) {
      int item = reader.getItem(i);
      if (item == 0) {
        continue;
      }
      int tag = reader.readByte(item - 1);
      if (tag == METHOD || tag == INTERFACE_METHOD) {
        int nameAndType = reader.getItem(reader.readUnsignedShort(item + 2));
        Callee callee =
            new Callee(
                reader.readClass(item, buffer).replace('/', '.'),
                reader.readUTF8(nameAndType, buffer),
                reader.readUTF8(nameAndType + 2, buffer));
        if (chosen.test(callee)) {
          return true;
        }
      }
    }
    return false;
  }

  private boolean hasChosen(MethodNode method) {
    for (AbstractInsnNode instruction : method.instructions) {
      if (callee(instruction).filter(chosen).isPresent()) {
        return true;
      }
    }
    return false;
  }

  /** What an instruction calls, or the body of the lambda that it makes. */
  private static Optional<Callee> callee(AbstractInsnNode instruction) {
    if (instruction instanceof MethodInsnNode call) {
      return Optional.of(callee(call));
    }
    return instruction instanceof InvokeDynamicInsnNode made
        ? body(made)
            .map(it -> new Callee(it.getOwner().replace('/', '.'), it.getName(), it.getDesc()))
        : Optional.empty();
  }

  private static Callee callee(MethodInsnNode call) {
    return new Callee(call.owner.replace('/', '.'), call.name, call.desc);
  }

  /** The method that holds a lambda's body (LambdaMetafactory, JDK). */
  private static Optional<Handle> body(InvokeDynamicInsnNode made) {
    return made.bsm.getOwner().equals("java/lang/invoke/LambdaMetafactory")
            && made.bsmArgs[1] instanceof Handle handle
            && handle.getName().contains("lambda$")
        ? Optional.of(handle)
        : Optional.empty();
  }

  private void read(ClassNode type, MethodNode method, List<MethodCall> calls) {
    MethodTexts open = new MethodTexts(type, method, others, receiver);
    ConstantTexts constants =
        new ConstantTexts(method, others::text, call -> chosen.test(callee(call)));
    Frame<BasicValue>[] frames;
    try {
      frames = new ConstantAnalyzer(constants).analyze(type.name, method);
    } catch (AnalyzerException e) {
      // Code that no compiler writes: the calls are there, their arguments stay unknown.
      frames = null;
    }
    OptionalInt line = OptionalInt.empty();
    for (int i = 0; i < method.instructions.size(); i++) {
      AbstractInsnNode instruction = method.instructions.get(i);
      if (instruction instanceof LineNumberNode number) {
        line = OptionalInt.of(number.line);
        continue;
      }
      Optional<Callee> callee = callee(instruction).filter(chosen);
      boolean reached = frames == null || frames[i] != null;
      if (callee.isPresent() && reached) {
        calls.add(
            new MethodCall(
                type.name.replace('/', '.'),
                enclosing(method.name),
                method.name,
                method.desc,
                callee.get(),
                Optional.ofNullable(type.sourceFile),
                line,
                arguments(instruction, frames == null ? null : frames[i], open.at(frames, i)),
                constants.followed().names(instruction),
                constants.followed().defined(instruction)));
      }
    }
  }

  /**
   * A lambda's body lies in a method {@code lambda$around$0}, Kotlin's in {@code around$lambda$0}.
   */
  private static String enclosing(String method) {
    if (method.startsWith("lambda$")) {
      int end = method.indexOf('$', "lambda$".length());
      return end < 0 ? method : method.substring("lambda$".length(), end);
    }
    int dollar = method.indexOf("$lambda");
    return dollar > 0 ? method.substring(0, dollar) : method;
  }

  private static List<CallArgument> arguments(
      AbstractInsnNode instruction, Frame<BasicValue> frame, IntFunction<CallArgument> open) {
    if (instruction instanceof InvokeDynamicInsnNode made) {
      return captured(made, frame, open);
    }
    return arguments(Type.getArgumentTypes(((MethodInsnNode) instruction).desc), frame, open);
  }

  /** What the body of a lambda is given: what it captures first, then what is not known here. */
  private static List<CallArgument> captured(
      InvokeDynamicInsnNode made, Frame<BasicValue> frame, IntFunction<CallArgument> open) {
    Handle body = body(made).orElseThrow();
    List<CallArgument> known = arguments(Type.getArgumentTypes(made.desc), frame, open);
    int receiver = body.getTag() == Opcodes.H_INVOKESTATIC ? 0 : 1;
    List<CallArgument> result = new ArrayList<>(known.subList(receiver, known.size()));
    while (result.size() < Type.getArgumentTypes(body.getDesc()).length) {
      result.add(CallArgument.UNKNOWN);
    }
    return result;
  }

  private static List<CallArgument> arguments(
      Type[] types, Frame<BasicValue> frame, IntFunction<CallArgument> open) {
    List<CallArgument> arguments = new ArrayList<>();
    for (int i = 0; i < types.length; i++) {
      int fromTop = types.length - i;
      CallArgument argument =
          frame == null
              ? CallArgument.UNKNOWN
              : argument(frame.getStack(frame.getStackSize() - fromTop));
      boolean unknown =
          argument.equals(CallArgument.UNKNOWN)
              && (types[i].equals(TEXT) || TextCalls.isBuilder(types[i]));
      arguments.add(unknown ? open.apply(fromTop) : argument);
    }
    return arguments;
  }

  private static CallArgument argument(BasicValue value) {
    if (!(value instanceof ConstantText known)) {
      boolean typed = value.isReference() && value.getType().getSort() == Type.OBJECT;
      String type = typed ? value.getType().getClassName() : "java.lang.Object";
      return type.equals("java.lang.Object") || type.equals("java.lang.String")
          ? CallArgument.UNKNOWN
          : CallArgument.of(type);
    }
    return switch (known.kind()) {
      case TEXT -> CallArgument.texts(known.texts().stream().sorted().toList(), /* cut= */ false);
      case PARAMETER -> CallArgument.parameter((Integer) known.identity());
      case ARRAY ->
          known.single() == null
              ? CallArgument.UNKNOWN
              : CallArgument.array(Integer.parseInt(known.single()));
      case CLASS -> CallArgument.of(known.single());
      case NUMBER, BUILDER, CLAUSES, LAMBDA, RESULT -> CallArgument.UNKNOWN;
    };
  }

  /**
   * The constant texts of a class's static fields: written there, or assigned once in its
   * initializer.
   */
  static List<StaticText> staticTexts(
      byte[] classFile, BiFunction<String, String, Optional<String>> fields) {
    ClassNode type = new ClassNode();
    new ClassReader(classFile).accept(type, ClassReader.SKIP_FRAMES | ClassReader.SKIP_DEBUG);
    List<StaticText> result = new ArrayList<>();
    type.fields.stream()
        .filter(field -> field.value instanceof String)
        .forEach(field -> result.add(new StaticText(field.name, (String) field.value)));
    for (MethodNode method : type.methods) {
      if (method.name.equals("<clinit>")) {
        result.addAll(new StaticAssignments(type, method, fields).read());
      }
    }
    return result;
  }

  /**
   * A static field that holds a text.
   *
   * @param name the field
   * @param text what it holds
   */
  record StaticText(String name, String text) {}
}
