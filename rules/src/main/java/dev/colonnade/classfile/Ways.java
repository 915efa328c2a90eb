package dev.colonnade.classfile;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.InsnList;
import org.objectweb.asm.tree.JumpInsnNode;
import org.objectweb.asm.tree.LabelNode;
import org.objectweb.asm.tree.LookupSwitchInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TableSwitchInsnNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/**
 * Ways through a method to one of its instructions, and what is known there on each: with every
 * optional stretch of code left out, with each in, and with one turned at a time; where branches
 * are few, with each combination. A loop is gone through once or not at all. Nothing is run: only
 * constant texts are followed.
 */
final class Ways {
  /** Ways that are tried to one instruction. */
  private static final int MOST_WAYS = 48;

  /** Branches up to which all combinations are tried. */
  private static final int FEW_BRANCHES = 4;

  /** Steps of one way: a method of a class file holds no more than 65,535 bytes. */
  private static final int MOST_STEPS = 20_000;

  private final InsnList code;
  private final Frame<BasicValue> start;
  private final Supplier<ConstantTexts> interpreters;
  private final int target;
  private final boolean[] leads;
  private boolean cut;

  /**
   * Ways to an instruction.
   *
   * @param start what is known at the start of the method
   * @param interpreters a new interpreter for each way
   */
  Ways(
      MethodNode method,
      Frame<BasicValue> start,
      Supplier<ConstantTexts> interpreters,
      int target) {
    this.code = method.instructions;
    this.start = start;
    this.interpreters = interpreters;
    this.target = target;
    this.leads = leads();
  }

  /** Which instructions lead to the target. */
  private boolean[] leads() {
    Map<Integer, List<Integer>> before = new HashMap<>();
    for (int i = 0; i < code.size(); i++) {
      for (int next : next(i)) {
        before.computeIfAbsent(next, it -> new ArrayList<>()).add(i);
      }
    }
    boolean[] result = new boolean[code.size()];
    Deque<Integer> waiting = new ArrayDeque<>(List.of(target));
    result[target] = true;
    while (!waiting.isEmpty()) {
      for (int previous : before.getOrDefault(waiting.poll(), List.of())) {
        if (!result[previous]) {
          result[previous] = true;
          waiting.add(previous);
        }
      }
    }
    return result;
  }

  private List<Integer> next(int at) {
    AbstractInsnNode instruction = code.get(at);
    int opcode = instruction.getOpcode();
    if (instruction instanceof JumpInsnNode jump) {
      int to = code.indexOf(jump.label);
      return opcode == Opcodes.GOTO ? List.of(to) : List.of(at + 1, to);
    }
    if (instruction instanceof TableSwitchInsnNode choice) {
      return targets(choice.labels, choice.dflt);
    }
    if (instruction instanceof LookupSwitchInsnNode choice) {
      return targets(choice.labels, choice.dflt);
    }
    boolean ends =
        (opcode >= Opcodes.IRETURN && opcode <= Opcodes.RETURN) || opcode == Opcodes.ATHROW;
    return ends || at + 1 == code.size() ? List.of() : List.of(at + 1);
  }

  private List<Integer> targets(List<LabelNode> labels, LabelNode otherwise) {
    List<Integer> result = new ArrayList<>();
    labels.forEach(label -> result.add(code.indexOf(label)));
    result.add(code.indexOf(otherwise));
    return result.stream().distinct().toList();
  }

  /** One way: the branches on it with what was taken there, and what is known at its end. */
  private record Way(Map<Integer, Integer> taken, Optional<Frame<BasicValue>> end) {}

  /** What is known of the target, by each way that reaches it. */
  <T> Set<T> at(Function<Frame<BasicValue>, Set<T>> known) {
    Set<T> result = new LinkedHashSet<>();
    Set<Map<Integer, Integer>> tried = new HashSet<>();
    Deque<Map<Integer, Integer>> waiting = new ArrayDeque<>();
    Way all = walk(Map.of(), /* through= */ true);
    Way none = walk(Map.of(), /* through= */ false);
    for (Way base : List.of(none, all)) {
      base.end().ifPresent(frame -> result.addAll(known.apply(frame)));
      tried.add(base.taken());
      turned(base.taken()).forEach(waiting::add);
    }
    while (!waiting.isEmpty() && tried.size() < MOST_WAYS) {
      Map<Integer, Integer> wanted = waiting.poll();
      Way way = walk(wanted, /* through= */ false);
      if (tried.add(way.taken())) {
        way.end().ifPresent(frame -> result.addAll(known.apply(frame)));
        if (way.taken().size() <= FEW_BRANCHES) {
          turned(way.taken()).forEach(waiting::add);
        }
      }
    }
    cut = !waiting.isEmpty();
    return result;
  }

  /** Whether there are more ways than were tried. */
  boolean isCut() {
    return cut;
  }

  /** The ways that differ from this one in one branch. */
  private List<Map<Integer, Integer>> turned(Map<Integer, Integer> taken) {
    List<Map<Integer, Integer>> result = new ArrayList<>();
    for (Map.Entry<Integer, Integer> branch : taken.entrySet()) {
      for (int other : next(branch.getKey())) {
        if (other != branch.getValue() && leads[other]) {
          Map<Integer, Integer> turned = new HashMap<>(taken);
          turned.put(branch.getKey(), other);
          result.add(turned);
        }
      }
    }
    return result;
  }

  /**
   * Walks from the start to the target.
   *
   * @param wanted what to take at branches
   * @param through whether to go straight on at others, into what they guard
   */
  private Way walk(Map<Integer, Integer> wanted, boolean through) {
    ConstantTexts interpreter = interpreters.get();
    Frame<BasicValue> frame = new ConstantAnalyzer(interpreter).newFrame(start);
    Map<Integer, Integer> taken = new LinkedHashMap<>();
    Map<Integer, Set<Integer>> gone = new HashMap<>();
    int at = 0;
    for (int steps = 0; steps < MOST_STEPS; steps++) {
      if (at == target) {
        return new Way(taken, Optional.of(frame));
      }
      List<Integer> open = new ArrayList<>(next(at));
      open.removeIf(to -> !leads[to]);
      if (open.size() > 1) {
        open.removeAll(gone.getOrDefault(at, Set.of()));
      }
      if (open.isEmpty() || !execute(frame, code.get(at), interpreter)) {
        return new Way(taken, Optional.empty());
      }
      int to = open.get(through ? 0 : open.size() - 1);
      if (next(at).size() > 1) {
        Integer asked = gone.containsKey(at) ? null : wanted.get(at);
        to = asked != null && open.contains(asked) ? asked : to;
        gone.computeIfAbsent(at, it -> new HashSet<>()).add(to);
        if (next(at).stream().filter(it -> leads[it]).count() > 1) {
          taken.putIfAbsent(at, to);
        }
      }
      at = to;
    }
    return new Way(taken, Optional.empty());
  }

  private static boolean execute(
      Frame<BasicValue> frame, AbstractInsnNode instruction, ConstantTexts interpreter) {
    if (instruction.getOpcode() < 0) {
      return true;
    }
    try {
      frame.execute(instruction, interpreter);
      return true;
    } catch (AnalyzerException | RuntimeException e) {
      return false;
    }
  }
}
