package dev.colonnade.classfile;

import dev.colonnade.classfile.AddedAnnotation.ClassName;
import dev.colonnade.classfile.AddedAnnotation.Constant;
import dev.colonnade.classfile.ClassAddition.Access;
import java.beans.Introspector;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AnnotationNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.MethodNode;

/**
 * Writes into a class file what a mapping file says of the class, so that whoever reads annotations
 * reads both. The result is read, never loaded: it holds no code.
 */
final class ClassRewriter {
  private static final String STANDARD = "jakarta.persistence.";
  private static final List<String> MAPPING_PACKAGES =
      List.of("Ljakarta/persistence/", "Ljavax/persistence/", "Lorg/hibernate/annotations/");

  private final ClassAddition addition;
  private final Function<String, Optional<byte[]>> classes;
  private final ClassNode type = new ClassNode();

  private ClassRewriter(ClassAddition addition, Function<String, Optional<byte[]>> classes) {
    this.addition = addition;
    this.classes = classes;
  }

  /**
   * The class file with the addition in it.
   *
   * @param classes the class files of superclasses, by internal name
   */
  static byte[] rewrite(
      byte[] classFile, ClassAddition addition, Function<String, Optional<byte[]>> classes) {
    return new ClassRewriter(addition, classes).rewrite(classFile);
  }

  private byte[] rewrite(byte[] classFile) {
    read(type, classFile);
    if (addition.isComplete()) {
      type.visibleAnnotations = stripped(type.visibleAnnotations);
      type.fields.forEach(it -> it.visibleAnnotations = stripped(it.visibleAnnotations));
      type.methods.forEach(it -> it.visibleAnnotations = stripped(it.visibleAnnotations));
    }
    Access access = access();
    for (AddedAnnotation annotation : addition.annotations()) {
      type.visibleAnnotations = with(type.visibleAnnotations, annotation);
    }
    addition.members().forEach((name, member) -> add(name, member, access));
    if (addition.isListed()) {
      for (FieldNode field : type.fields) {
        if (!addition.members().containsKey(field.name)) {
          field.visibleAnnotations =
              with(field.visibleAnnotations, annotation("Transient", Map.of()));
        }
      }
    }
    boolean said = addition.access().isPresent() || addition.isListed();
    if (said) {
      type.visibleAnnotations = with(type.visibleAnnotations, access(access));
    }
    ClassWriter writer = new ClassWriter(0);
    type.accept(writer);
    return writer.toByteArray();
  }

  private static void read(ClassNode node, byte[] classFile) {
    new ClassReader(classFile)
        .accept(node, ClassReader.SKIP_CODE | ClassReader.SKIP_DEBUG | ClassReader.SKIP_FRAMES);
  }

  private Access access() {
    if (addition.isListed()) {
      return Access.FIELD;
    }
    return addition.access().or(this::annotatedAccess).orElse(Access.FIELD);
  }

  private Optional<Access> annotatedAccess() {
    if (type.fields.stream().anyMatch(it -> isIdentifier(it.visibleAnnotations))) {
      return Optional.of(Access.FIELD);
    }
    return type.methods.stream().anyMatch(it -> isIdentifier(it.visibleAnnotations))
        ? Optional.of(Access.PROPERTY)
        : Optional.empty();
  }

  private static boolean isIdentifier(List<AnnotationNode> annotations) {
    return annotations != null
        && annotations.stream()
            .anyMatch(
                it -> it.desc.endsWith("persistence/Id;") || it.desc.endsWith("/EmbeddedId;"));
  }

  private static AddedAnnotation access(Access access) {
    return annotation(
        "Access", Map.of("value", new Constant(STANDARD + "AccessType", access.name())));
  }

  private static AddedAnnotation annotation(String simpleName, Map<String, Object> values) {
    return new AddedAnnotation(STANDARD + simpleName, values);
  }

  private void add(String name, ClassAddition.Member member, Access ofClass) {
    Access wanted = addition.isListed() ? Access.FIELD : member.access().orElse(ofClass);
    Optional<FieldNode> field = type.fields.stream().filter(it -> it.name.equals(name)).findFirst();
    Optional<MethodNode> getter = getter(type, name);
    field.ifPresent(it -> it.visibleAnnotations = stripped(it.visibleAnnotations));
    getter.ifPresent(it -> it.visibleAnnotations = stripped(it.visibleAnnotations));
    boolean atField =
        addition.isListed()
            || (wanted == Access.FIELD ? field.isPresent() || getter.isEmpty() : getter.isEmpty());
    List<AddedAnnotation> all = new ArrayList<>(member.annotations());
    if (atField != (ofClass == Access.FIELD)) {
      all.add(access(atField ? Access.FIELD : Access.PROPERTY));
    }
    if (atField) {
      FieldNode target = field.orElseGet(() -> newField(name, member));
      target.access &= ~(Opcodes.ACC_TRANSIENT | Opcodes.ACC_STATIC);
      all.forEach(it -> target.visibleAnnotations = with(target.visibleAnnotations, it));
    } else {
      MethodNode target = getter.orElseThrow();
      all.forEach(it -> target.visibleAnnotations = with(target.visibleAnnotations, it));
    }
  }

  private static Optional<MethodNode> getter(ClassNode type, String property) {
    return type.methods.stream()
        .filter(
            it ->
                it.desc.startsWith("()")
                    && !it.desc.endsWith(")V")
                    && (it.access & (Opcodes.ACC_STATIC | Opcodes.ACC_BRIDGE)) == 0
                    && property.equals(property(it.name)))
        .findFirst();
  }

  private static String property(String method) {
    return method.startsWith("get") && method.length() > 3
        ? Introspector.decapitalize(method.substring(3))
        : method.startsWith("is") && method.length() > 2
            ? Introspector.decapitalize(method.substring(2))
            : "";
  }

  /** A field for a member that is a property only, or a superclass's. */
  private FieldNode newField(String name, ClassAddition.Member member) {
    FieldNode field = inherited(name);
    if (field == null || (member.type().isPresent() && field.signature == null)) {
      String descriptor =
          member
              .type()
              .map(it -> Type.getObjectType(it.replace('.', '/')).getDescriptor())
              .orElse(field == null ? "Ljava/lang/Object;" : field.desc);
      field = new FieldNode(Opcodes.ACC_PRIVATE, name, descriptor, null, null);
    }
    type.fields.add(field);
    return field;
  }

  private FieldNode inherited(String name) {
    ClassNode at = type;
    for (int i = 0; at != null && i < 32; i++) {
      Optional<MethodNode> getter = getter(at, name);
      if (getter.isPresent()) {
        String signature = getter.get().signature;
        return new FieldNode(
            Opcodes.ACC_PRIVATE,
            name,
            Type.getReturnType(getter.get().desc).getDescriptor(),
            signature == null ? null : signature.substring(signature.indexOf(')') + 1),
            null);
      }
      for (FieldNode field : at.fields) {
        if (field.name.equals(name)) {
          return new FieldNode(Opcodes.ACC_PRIVATE, name, field.desc, field.signature, null);
        }
      }
      Optional<byte[]> above =
          at.superName == null ? Optional.empty() : classes.apply(at.superName);
      at = above.map(ClassRewriter::node).orElse(null);
    }
    return null;
  }

  private static ClassNode node(byte[] classFile) {
    ClassNode node = new ClassNode();
    read(node, classFile);
    return node;
  }

  private static List<AnnotationNode> stripped(List<AnnotationNode> annotations) {
    if (annotations == null) {
      return null;
    }
    List<AnnotationNode> result = new ArrayList<>(annotations);
    result.removeIf(it -> MAPPING_PACKAGES.stream().anyMatch(it.desc::startsWith));
    return result;
  }

  /** The annotations with one more; one of its simple name makes room. */
  private static List<AnnotationNode> with(
      List<AnnotationNode> annotations, AddedAnnotation added) {
    List<AnnotationNode> result = annotations == null ? new ArrayList<>() : annotations;
    String simple = added.type().substring(added.type().lastIndexOf('.') + 1);
    result.removeIf(
        it -> MAPPING_PACKAGES.stream().anyMatch(name -> it.desc.equals(name + simple + ";")));
    result.add(node(added));
    return result;
  }

  private static AnnotationNode node(AddedAnnotation added) {
    AnnotationNode node = new AnnotationNode(descriptor(added.type()));
    node.values = new ArrayList<>();
    added
        .values()
        .forEach(
            (name, value) -> {
              node.values.add(name);
              node.values.add(value(value));
            });
    return node;
  }

  private static Object value(Object value) {
    if (value instanceof AddedAnnotation nested) {
      return node(nested);
    }
    if (value instanceof Constant constant) {
      return new String[] {descriptor(constant.type()), constant.name()};
    }
    if (value instanceof ClassName name) {
      return Type.getType(descriptor(name.name()));
    }
    if (value instanceof List<?> list) {
      List<Object> result = new ArrayList<>();
      list.forEach(it -> result.add(value(it)));
      return result;
    }
    return value;
  }

  private static String descriptor(String className) {
    return "L" + className.replace('.', '/') + ";";
  }
}
