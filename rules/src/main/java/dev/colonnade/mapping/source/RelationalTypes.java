package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.mapping.EnumConstants;
import dev.colonnade.mapping.ValueType;
import dev.colonnade.mapping.ValueType.Storage;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.FieldInfo;
import org.jboss.jandex.Type;

/** Tells types that lie in a column from those that have rows of their own. */
final class RelationalTypes {
  private static final String CONVERTER = "org.springframework.core.convert.converter.Converter";
  private static final Set<String> REFERENCES =
      Set.of(
          "org.springframework.data.jdbc.core.mapping.AggregateReference",
          "org.springframework.data.relational.core.mapping.AggregateReference");
  private static final Set<String> SETS =
      Set.of(
          "java.util.Set", "java.util.SortedSet", "java.util.HashSet", "java.util.LinkedHashSet");
  private static final Set<String> COLLECTIONS =
      Set.of(
          "java.util.List",
          "java.util.Collection",
          "java.lang.Iterable",
          "java.util.ArrayList",
          "java.util.LinkedList");
  private static final Set<String> MAPS =
      Set.of(
          "java.util.Map", "java.util.HashMap", "java.util.LinkedHashMap", "java.util.SortedMap");

  /** What a property holds. */
  sealed interface Shape {
    /** A value in a column. */
    record Value(String className) implements Shape {}

    /** One row of another table. */
    record One(ClassFile type, Type written) implements Shape {}

    /**
     * Several rows of another table.
     *
     * @param keyed true where a key or position tells them apart
     * @param ordered true where that is a position
     */
    record Many(ClassFile type, Type written, boolean keyed, boolean ordered, Optional<String> key)
        implements Shape {}
  }

  private final ClassFiles classes;
  private final Set<String> converted = new HashSet<>();
  private final Map<String, EnumConstants> enums = new TreeMap<>();

  RelationalTypes(ClassFiles classes) {
    this.classes = classes;
    for (ClassFile file : classes.all()) {
      for (Type implemented : file.info().interfaceTypes()) {
        if (implemented.name().toString().equals(CONVERTER)
            && implemented.kind() == Type.Kind.PARAMETERIZED_TYPE) {
          List<Type> sides = implemented.asParameterizedType().arguments();
          addConverted(sides.get(0), sides.get(1));
          addConverted(sides.get(1), sides.get(0));
        }
      }
    }
  }

  /** Between classes of the service a converter says nothing of columns. */
  private void addConverted(Type type, Type other) {
    if (!classes.isOwn(other.name())) {
      converted.add(type.name().toString());
    }
  }

  List<EnumConstants> enums() {
    return List.copyOf(enums.values());
  }

  Shape of(RelationalProperty property) {
    Type type = property.type();
    String name = type.name().toString();
    TypeArguments arguments = property.arguments();
    if (type.kind() == Type.Kind.ARRAY) {
      return many(type, arguments.argument(type, 0), true, true, Optional.empty());
    }
    if (SETS.contains(name)) {
      return many(type, arguments.argument(type, 0), false, false, Optional.empty());
    }
    if (COLLECTIONS.contains(name)) {
      return many(type, arguments.argument(type, 0), true, true, Optional.empty());
    }
    if (MAPS.contains(name)) {
      Optional<String> key = arguments.argument(type, 0).map(TypeArguments::className);
      return many(type, arguments.argument(type, 1), true, false, key);
    }
    if (REFERENCES.contains(name)) {
      return new Shape.Value(
          arguments.argument(type, 1).map(TypeArguments::className).orElse(name));
    }
    return entity(type)
        .<Shape>map(it -> new Shape.One(it, type))
        .orElseGet(() -> new Shape.Value(name));
  }

  private Shape many(
      Type type, Optional<Type> element, boolean keyed, boolean ordered, Optional<String> key) {
    return element
        .flatMap(this::entity)
        .<Shape>map(it -> new Shape.Many(it, element.get(), keyed, ordered, key))
        .orElseGet(() -> new Shape.Value(TypeArguments.className(type)));
  }

  /** The class, where its instances are no values of a column. */
  private Optional<ClassFile> entity(Type type) {
    boolean named = type.kind() == Type.Kind.CLASS || type.kind() == Type.Kind.PARAMETERIZED_TYPE;
    String name = type.name().toString();
    if (!named || converted.contains(name) || name.matches("(java|javax|kotlin|jakarta)\\..*")) {
      return Optional.empty();
    }
    return classes
        .lookUp(DotName.createSimple(name))
        .filter(it -> !it.info().isEnum() && !it.info().isInterface())
        .filter(it -> classes.isOwn(it.info().name()) || isMarked(it.info()));
  }

  private static boolean isMarked(ClassInfo type) {
    return type.annotationsMap().keySet().stream()
        .map(DotName::toString)
        .anyMatch(
            it ->
                it.startsWith("org.springframework.data.relational.")
                    || it.startsWith("org.springframework.data.annotation."));
  }

  /** What a column with values of the class holds. */
  ValueType valueType(String className) {
    Optional<ClassInfo> type = classes.lookUp(DotName.createSimple(className)).map(ClassFile::info);
    if (converted.contains(className)) {
      return new ValueType(className, Storage.CONVERTED);
    }
    if (type.filter(ClassInfo::isEnum).isPresent()) {
      enums.computeIfAbsent(
          className,
          it ->
              new EnumConstants(
                  it, type.get().enumConstants().stream().map(FieldInfo::name).toList()));
      return new ValueType(className, Storage.ENUM_NAME);
    }
    return new ValueType(
        className,
        classes.isOwn(DotName.createSimple(className)) ? Storage.CONVERTED : Storage.PLAIN);
  }
}
