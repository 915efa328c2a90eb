package dev.colonnade.classfile;

import java.util.ArrayList;
import java.util.List;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;
import org.objectweb.asm.tree.analysis.Interpreter;

/** Follows constants through a method; a builder that changes changes wherever it is held. */
final class ConstantAnalyzer extends Analyzer<BasicValue> {
  ConstantAnalyzer(ConstantTexts constants) {
    super(constants);
  }

  @Override
  protected Frame<BasicValue> newFrame(int locals, int stack) {
    return new BuilderFrame(locals, stack);
  }

  @Override
  protected Frame<BasicValue> newFrame(Frame<? extends BasicValue> frame) {
    return new BuilderFrame(frame);
  }

  private static final class BuilderFrame extends Frame<BasicValue> {
    BuilderFrame(int locals, int stack) {
      super(locals, stack);
    }

    BuilderFrame(Frame<? extends BasicValue> frame) {
      super(frame);
    }

    @Override
    public void execute(AbstractInsnNode instruction, Interpreter<BasicValue> interpreter)
        throws AnalyzerException {
      if (!(instruction instanceof MethodInsnNode call)) {
        super.execute(instruction, interpreter);
        return;
      }
      int arguments = Type.getArgumentTypes(call.desc).length;
      int first = getStackSize() - arguments;
      BasicValue receiver = ConstantTexts.isBuilder(call, this) ? getStack(first - 1) : null;
      boolean reads = receiver != null && TextCalls.leavesBuilder(call.name);
      BasicValue changed =
          receiver instanceof ConstantText builder && !reads
              ? ((ConstantTexts) interpreter).changed(builder, call, arguments(first, arguments))
              : BasicValue.REFERENCE_VALUE;
      Object identity =
          receiver instanceof ConstantText known && known.isBuilder() && !reads
              ? known.identity()
              : null;
      for (int i = first; i < first + arguments; i++) {
        boolean onlyRead = TextCalls.isStatic(call);
        if (!onlyRead && getStack(i) instanceof ConstantText given && given.isBuilder()) {
          // Whoever else is given a builder may change it.
          replace(given.identity(), ((ConstantTexts) interpreter).handed(given, call, i - first));
        }
      }
      super.execute(instruction, interpreter);
      if (identity != null) {
        replace(identity, changed);
      }
    }

    private List<BasicValue> arguments(int first, int count) {
      List<BasicValue> result = new ArrayList<>();
      for (int i = 0; i < count; i++) {
        result.add(getStack(first + i));
      }
      return result;
    }

    private void replace(Object identity, BasicValue value) {
      for (int i = 0; i < getLocals(); i++) {
        if (holds(getLocal(i), identity)) {
          setLocal(i, value);
        }
      }
      for (int i = 0; i < getStackSize(); i++) {
        if (holds(getStack(i), identity)) {
          setStack(i, value);
        }
      }
    }

    private static boolean holds(BasicValue value, Object identity) {
      return value instanceof ConstantText known
          && known.isBuilder()
          && known.identity() == identity;
    }
  }
}
