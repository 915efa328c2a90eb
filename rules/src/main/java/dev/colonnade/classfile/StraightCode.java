package dev.colonnade.classfile;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TypeInsnNode;

/**
 * Follows code without branches, such as generators write to keep what they found out, and tells
 * the objects that it makes. Nothing is loaded or run.
 */
final class StraightCode {
  private static final Made OTHER = new Made.Other();

  private final String type;
  private final List<Made.Instance> found = new ArrayList<>();
  private List<Made> stack = new ArrayList<>();

  private StraightCode(String type) {
    this.type = type;
  }

  /**
   * The objects of a class that the methods of another make; empty where one of these methods does
   * more than straight code can.
   *
   * @param type binary name of the class of the objects
   */
  static Optional<List<Made.Instance>> objects(byte[] classFile, String type) {
    ClassNode node = new ClassNode();
    new ClassReader(classFile).accept(node, ClassReader.SKIP_FRAMES | ClassReader.SKIP_DEBUG);
    StraightCode code = new StraightCode(type.replace('.', '/'));
    for (MethodNode method : node.methods) {
      if (code.makes(method) && !code.follow(method)) {
        return Optional.empty();
      }
    }
    return Optional.of(List.copyOf(code.found));
  }

  private boolean makes(MethodNode method) {
    for (AbstractInsnNode instruction : method.instructions) {
      if (isNew(instruction, type)) {
        return true;
      }
    }
    return false;
  }

  private static boolean isNew(AbstractInsnNode instruction, String type) {
    return instruction.getOpcode() == Opcodes.NEW
        && instruction instanceof TypeInsnNode made
        && made.desc.equals(type);
  }

  private boolean follow(MethodNode method) {
    stack = new ArrayList<>();
    for (AbstractInsnNode instruction : method.instructions) {
      if (instruction.getOpcode() >= 0 && !step(instruction)) {
        return false;
      }
    }
    return true;
  }

  private Made pop() {
    return stack.remove(stack.size() - 1);
  }

  /** False for an instruction that straight code has not. */
  private boolean step(AbstractInsnNode instruction) {
    int code = instruction.getOpcode();
    if (code <= Opcodes.SIPUSH && code != Opcodes.NOP) {
      return stack.add(OTHER);
    }
    if (instruction instanceof MethodInsnNode call) {
      call(call);
      return true;
    }
    if (instruction instanceof InvokeDynamicInsnNode call) {
      arguments(call.desc);
      return stack.add(OTHER);
    }
    switch (code) {
      case Opcodes.LDC -> stack.add(constant(((LdcInsnNode) instruction).cst));
      case Opcodes.GETSTATIC -> stack.add(field((FieldInsnNode) instruction));
      // Not yet an instance: told from others by its identity.
      case Opcodes.NEW -> stack.add(new Made.Given("new", List.of()));
      case Opcodes.DUP -> stack.add(stack.get(stack.size() - 1));
      case Opcodes.ANEWARRAY -> {
        pop();
        stack.add(new Made.Elements(List.of()));
      }
      case Opcodes.AASTORE -> {
        Made value = pop();
        pop();
        Made array = pop();
        if (array instanceof Made.Elements elements) {
          List<Made> more = new ArrayList<>(elements.elements());
          more.add(value);
          replace(array, new Made.Elements(more));
        }
      }
      case Opcodes.POP, Opcodes.PUTSTATIC, Opcodes.ARETURN -> pop();
      case Opcodes.CHECKCAST, Opcodes.RETURN, Opcodes.NOP -> {}
      default -> {
        return false;
      }
    }
    return true;
  }

  private static Made constant(Object value) {
    if (value instanceof String text) {
      return new Made.Text(text);
    }
    return value instanceof Type literal ? new Made.Literal(literal.getClassName()) : OTHER;
  }

  /** A field; the classes of primitive types are kept in fields of their boxes. */
  private static Made field(FieldInsnNode field) {
    return field.name.equals("TYPE") && field.owner.startsWith("java/lang/")
        ? new Made.Literal(
            switch (field.owner) {
              case "java/lang/Integer" -> "int";
              case "java/lang/Character" -> "char";
              default -> field.owner.substring("java/lang/".length()).toLowerCase(Locale.ROOT);
            })
        : OTHER;
  }

  private List<Made> arguments(String descriptor) {
    Deque<Made> arguments = new ArrayDeque<>();
    for (int i = 0; i < Type.getArgumentTypes(descriptor).length; i++) {
      arguments.push(pop());
    }
    return List.copyOf(arguments);
  }

  private void call(MethodInsnNode call) {
    List<Made> arguments = arguments(call.desc);
    Made receiver = call.getOpcode() == Opcodes.INVOKESTATIC ? OTHER : pop();
    if (call.name.equals("<init>")) {
      Made.Instance made = new Made.Instance(call.owner.replace('/', '.'), arguments);
      replace(receiver, made);
      if (call.owner.equals(type)) {
        found.add(made);
      }
    } else if (Type.getReturnType(call.desc).getSort() != Type.VOID) {
      stack.add(new Made.Given(call.name, arguments));
    }
  }

  @SuppressWarnings("ReferenceEquality") // two arrays may hold the same and yet be two
  private void replace(Made before, Made after) {
    stack.replaceAll(it -> it == before ? after : it);
  }
}
