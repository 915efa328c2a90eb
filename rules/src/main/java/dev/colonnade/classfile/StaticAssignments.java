package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import dev.colonnade.classfile.MethodCalls.StaticText;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/** The final text fields that a class initializer assigns once, to one text. */
final class StaticAssignments {
  private final ClassNode type;
  private final MethodNode initializer;
  private final BiFunction<String, String, Optional<String>> fields;

  StaticAssignments(
      ClassNode type, MethodNode initializer, BiFunction<String, String, Optional<String>> fields) {
    this.type = type;
    this.initializer = initializer;
    this.fields = fields;
  }

  List<StaticText> read() {
    List<StaticText> result = new ArrayList<>();
    Frame<BasicValue>[] frames;
    try {
      frames =
          new ConstantAnalyzer(new ConstantTexts(initializer, fields, call -> false))
              .analyze(type.name, initializer);
    } catch (AnalyzerException e) {
      return result;
    }
    Map<String, Integer> assignments = new HashMap<>();
    for (int i = 0; i < initializer.instructions.size(); i++) {
      AbstractInsnNode instruction = initializer.instructions.get(i);
      if (instruction.getOpcode() != Opcodes.PUTSTATIC || frames[i] == null) {
        continue;
      }
      FieldInsnNode field = (FieldInsnNode) instruction;
      boolean once = assignments.merge(field.name, 1, Integer::sum) == 1;
      BasicValue value = frames[i].getStack(frames[i].getStackSize() - 1);
      if (!once) {
        result.removeIf(it -> it.name().equals(field.name));
      } else if (isFinal(field)
          && value instanceof ConstantText text
          && text.kind() == Kind.TEXT
          && text.single() != null) {
        result.add(new StaticText(field.name, text.single()));
      }
    }
    return result;
  }

  private boolean isFinal(FieldInsnNode field) {
    for (FieldNode declared : type.fields) {
      if (declared.name.equals(field.name)) {
        return field.owner.equals(type.name) && (declared.access & Opcodes.ACC_FINAL) != 0;
      }
    }
    return false;
  }
}
