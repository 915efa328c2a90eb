package dev.colonnade.classfile;

import dev.colonnade.classfile.ConstantText.Kind;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.IntFunction;
import java.util.stream.Stream;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/**
 * The texts that one method puts together of constants and of parts that are not known, way by way;
 * what methods of the same object give back, in this class or in those that extend it, goes into
 * them.
 */
final class MethodTexts implements OwnMethods {
  /** So many methods of a class may hand a text on. */
  private static final int DEEPEST = 3;

  /** What stands in a builder before a method is given it; no text has it. */
  private static final String BEFORE = "\u0001";

  private static final Type TEXT = Type.getType(String.class);

  private final ClassNode type;
  private final MethodNode method;
  private final OtherClasses others;
  private final Optional<String> receiver;
  private final int depth;
  private final Map<String, Set<String>> given = new HashMap<>();
  private boolean cut;

  /**
   * The texts of a method.
   *
   * @param receiver binary name of the class of the object whose method it is, where that is known
   */
  MethodTexts(ClassNode type, MethodNode method, OtherClasses others, Optional<String> receiver) {
    this(type, method, others, receiver, 0);
  }

  private MethodTexts(
      ClassNode type,
      MethodNode method,
      OtherClasses others,
      Optional<String> receiver,
      int depth) {
    this.type = type;
    this.method = method;
    this.others = others;
    this.receiver = receiver;
    this.depth = depth;
  }

  /** What the methods of that name in a class file give back; none where one of them is unknown. */
  static List<String> returned(byte[] classFile, String name, OtherClasses others) {
    ClassNode type = parsed(classFile);
    Set<String> result = new TreeSet<>();
    for (MethodNode method : type.methods) {
      boolean texts = Type.getReturnType(method.desc).equals(TEXT);
      if (method.name.equals(name) && texts && method.instructions.size() > 0) {
        Set<String> returned = new MethodTexts(type, method, others, Optional.empty()).returned();
        if (returned.isEmpty()) {
          return List.of();
        }
        result.addAll(returned);
      }
    }
    return List.copyOf(result);
  }

  private ConstantTexts interpreter() {
    return new ConstantTexts(method, others::text, call -> false, this, /* open= */ true);
  }

  /**
   * The texts that lie on the stack at an instruction, by their place counted from 1 at its top.
   *
   * @param frames what is known of the method as a whole; null where it cannot be read
   */
  IntFunction<CallArgument> at(Frame<BasicValue>[] frames, int instruction) {
    return fromTop ->
        frames == null || frames[0] == null
            ? CallArgument.UNKNOWN
            : texts(frames[0], instruction, fromTop);
  }

  private CallArgument texts(Frame<BasicValue> start, int instruction, int fromTop) {
    cut = false;
    Ways ways = new Ways(method, start, this::interpreter, instruction);
    Set<String> texts = ways.at(frame -> text(frame.getStack(frame.getStackSize() - fromTop)));
    return CallArgument.texts(texts.stream().sorted().toList(), cut || ways.isCut());
  }

  private static Set<String> text(BasicValue value) {
    return value instanceof ConstantText known
            && (known.kind() == Kind.TEXT || known.kind() == Kind.BUILDER)
        ? known.texts()
        : Set.of();
  }

  @Override
  public Set<String> givenBack(MethodInsnNode call) {
    if (depth == DEEPEST
        || !call.owner.equals(type.name)
        || !Type.getReturnType(call.desc).equals(TEXT)) {
      return Set.of();
    }
    return given.computeIfAbsent(call.name + call.desc, key -> few(givenBackBy(call)));
  }

  /** The texts of the method that is called, or of all those that can be in its place. */
  private Set<String> givenBackBy(MethodInsnNode call) {
    if (receiver.isPresent()) {
      return others
          .file(receiver.get())
          .flatMap(it -> inherited(parsed(it), call))
          .map(it -> new MethodTexts(it.type(), it.method(), others, receiver, depth + 1))
          .map(MethodTexts::returned)
          .orElse(Set.of());
    }
    ClassNode owner = type;
    Optional<MethodNode> called = declared(owner, call);
    while (called.isEmpty()) {
      Optional<ClassNode> above =
          owner.superName == null
              ? Optional.empty()
              : others.file(owner.superName.replace('/', '.')).map(MethodTexts::parsed);
      if (above.isEmpty()) {
        return Set.of();
      }
      owner = above.get();
      called = declared(owner, call);
    }
    Map<MethodNode, ClassNode> all = new LinkedHashMap<>();
    all.put(called.get(), owner);
    if (!isFixed(owner, called.get())) {
      for (byte[] below : others.below(type.name.replace('/', '.'))) {
        ClassNode subclass = parsed(below);
        declared(subclass, call).ifPresent(it -> all.put(it, subclass));
      }
    }
    all.keySet().removeIf(it -> (it.access & Opcodes.ACC_ABSTRACT) != 0);
    Set<String> result = new TreeSet<>();
    for (Map.Entry<MethodNode, ClassNode> one : all.entrySet()) {
      Set<String> texts =
          new MethodTexts(one.getValue(), one.getKey(), others, receiver, depth + 1).returned();
      if (texts.isEmpty()) {
        return Set.of();
      }
      result.addAll(texts);
    }
    return result;
  }

  private record Declared(ClassNode type, MethodNode method) {}

  /** The method with a body that a class has, of its own, of a superclass or of an interface. */
  private Optional<Declared> inherited(ClassNode of, MethodInsnNode call) {
    Optional<MethodNode> own =
        declared(of, call).filter(it -> (it.access & Opcodes.ACC_ABSTRACT) == 0);
    return own.isPresent()
        ? Optional.of(new Declared(of, own.get()))
        : Stream.concat(Stream.ofNullable(of.superName), of.interfaces.stream())
            .flatMap(above -> others.file(above.replace('/', '.')).stream())
            .flatMap(above -> inherited(parsed(above), call).stream())
            .findFirst();
  }

  private static ClassNode parsed(byte[] classFile) {
    ClassNode type = new ClassNode();
    new ClassReader(classFile).accept(type, ClassReader.SKIP_FRAMES);
    return type;
  }

  private static Optional<MethodNode> declared(ClassNode type, MethodInsnNode call) {
    return type.methods.stream()
        .filter(it -> it.name.equals(call.name) && it.desc.equals(call.desc))
        .findFirst();
  }

  @Override
  public Set<String> appended(MethodInsnNode call, int argument) {
    Optional<MethodNode> called =
        depth < DEEPEST && call.owner.equals(type.name) ? declared(type, call) : Optional.empty();
    if (called.isEmpty()
        || called.get().instructions.size() == 0
        || isReplaced(call, called.get())) {
      return Set.of();
    }
    return given.computeIfAbsent(
        call.name + call.desc + argument,
        key ->
            few(
                new MethodTexts(type, called.get(), others, receiver, depth + 1)
                    .appended(argument)));
  }

  private boolean isReplaced(MethodInsnNode call, MethodNode called) {
    return !isFixed(type, called)
        && others.below(type.name.replace('/', '.')).stream()
            .anyMatch(below -> declared(parsed(below), call).isPresent());
  }

  @Override
  public boolean buildsStatements(String className) {
    return ClauseTexts.isBuilder(
        others.file(className.replace('/', '.')).map(it -> parsed(it).superName).orElse(""));
  }

  @Override
  public Set<String> constructed(MethodInsnNode call) {
    Optional<ClassNode> built =
        depth < DEEPEST
            ? others.file(call.owner.replace('/', '.')).map(MethodTexts::parsed)
            : Optional.empty();
    Optional<MethodNode> constructor = built.flatMap(it -> declared(it, call));
    return constructor.isEmpty()
        ? Set.of()
        : given.computeIfAbsent(
            call.owner + call.desc,
            key ->
                few(
                    new MethodTexts(
                            built.get(), constructor.get(), others, Optional.empty(), depth + 1)
                        .appended(0, TextValues.clauses(new Object()))));
  }

  /** What this method appends to a builder that it is given. */
  private Set<String> appended(int argument) {
    int local = (method.access & Opcodes.ACC_STATIC) != 0 ? 0 : 1;
    Type[] types = Type.getArgumentTypes(method.desc);
    for (int i = 0; i < argument; i++) {
      local += types[i].getSize();
    }
    boolean clauses = ClauseTexts.isBuilder(types[argument].getInternalName());
    return appended(
        local, clauses ? TextValues.clauses(new Object()) : TextValues.builder(new Object()));
  }

  /** What this method appends to the builder that a local variable holds at its start. */
  private Set<String> appended(int place, ConstantText builder) {
    BasicValue given = builder.holding(Set.of(BEFORE));
    Set<String> result = new TreeSet<>();
    Frame<BasicValue>[] frames = frames();
    for (int i = 0; i < frames.length; i++) {
      int code = method.instructions.get(i).getOpcode();
      boolean ends = code >= Opcodes.IRETURN && code <= Opcodes.RETURN;
      if (!ends || frames[i] == null) {
        continue;
      }
      Frame<BasicValue> start = new Frame<>(frames[0]);
      start.setLocal(place, given);
      Set<String> texts =
          new Ways(method, start, this::interpreter, i)
              .at(
                  frame ->
                      frame.getLocal(place) instanceof ConstantText end && end.isBuilder()
                          ? end.texts()
                          : Set.of(""));
      for (String text : texts) {
        if (!text.startsWith(BEFORE)) {
          return Set.of();
        }
        result.add(text.substring(BEFORE.length()));
      }
    }
    return result;
  }

  /** Of many texts the shortest and the longest: what goes into others multiplies them. */
  private Set<String> few(Set<String> texts) {
    if (texts.size() <= TextValues.ALTERNATIVES) {
      return texts;
    }
    cut = true;
    Comparator<String> byLength =
        Comparator.comparing(String::length).thenComparing(Comparator.naturalOrder());
    return Set.of(Collections.min(texts, byLength), Collections.max(texts, byLength));
  }

  private static boolean isFixed(ClassNode type, MethodNode called) {
    int fixed = Opcodes.ACC_PRIVATE | Opcodes.ACC_STATIC | Opcodes.ACC_FINAL;
    return (called.access & fixed) != 0 || (type.access & Opcodes.ACC_FINAL) != 0;
  }

  private Set<String> returned() {
    Set<String> result = new TreeSet<>();
    Frame<BasicValue>[] frames = frames();
    for (int i = 0; i < frames.length; i++) {
      if (method.instructions.get(i).getOpcode() == Opcodes.ARETURN && frames[i] != null) {
        List<String> texts = texts(frames[0], i, 1).texts();
        if (texts.isEmpty()) {
          return Set.of();
        }
        result.addAll(texts);
      }
    }
    return result;
  }

  @SuppressWarnings({"unchecked", "rawtypes"}) // An array of a generic type.
  private static Frame<BasicValue>[] nothing() {
    return new Frame[0];
  }

  /** What is known at each instruction of the method; none where it cannot be read. */
  private Frame<BasicValue>[] frames() {
    try {
      return new Analyzer<>(new ConstantTexts(method, others::text, call -> false))
          .analyze(type.name, method);
    } catch (AnalyzerException e) {
      // Code that no compiler writes: nothing is known of it.
      return nothing();
    }
  }
}
