package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.source.EntityClass.Layer;
import dev.colonnade.mapping.source.Members.Access;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Type;

/** Finds the entities among the classes, and their hierarchies. */
final class EntityClasses {
  private static final Set<String> CONVERTERS =
      Set.of("jakarta.persistence.AttributeConverter", "javax.persistence.AttributeConverter");

  private final ClassFiles classes;
  private final Schema schema;
  private final Map<String, ClassFile> files = new LinkedHashMap<>();
  private final Set<String> extendedEntities = new HashSet<>();
  private final Map<String, EntityClass> found = new TreeMap<>();

  EntityClasses(ClassFiles classes, Schema schema) {
    this.classes = classes;
    this.schema = schema;
  }

  Reading find(Names names) {
    for (ClassFile file : classes.all()) {
      if (Marks.has(file.info(), "Entity")) {
        files.put(file.info().name().toString(), file);
      }
    }
    for (ClassFile file : new LibraryEntities(classes).find(List.copyOf(files.values()))) {
      files.put(file.info().name().toString(), file);
    }
    for (ClassFile file : files.values()) {
      superEntity(file.info()).ifPresent(it -> extendedEntities.add(it.name().toString()));
    }
    List.copyOf(files.values()).forEach(file -> entity(file, names));
    return new Reading(classes, names, schema, found, convertedTypes());
  }

  private EntityClass entity(ClassFile file, Names names) {
    ClassInfo type = file.info();
    EntityClass known = found.get(type.name().toString());
    if (known != null) {
      return known;
    }
    Optional<EntityClass> parent =
        superEntity(type).map(it -> entity(classes.lookUp(it.name()).orElseThrow(), names));
    String name = Marks.text(Marks.find(type, "Entity"), "name").orElseGet(() -> unqualified(type));
    Optional<AnnotationInstance> mark = Marks.find(type, "Table");
    Identifier table = names.table(Marks.text(mark, "name").orElse(name), mark);
    EntityClass entity =
        new EntityClass(
            type,
            file.mapping(),
            name,
            table,
            access(type, parent),
            parent,
            parent.map(it -> it.inheritance).orElseGet(() -> inheritance(type)));
    parent.ifPresent(it -> entity.layers.addAll(it.layers));
    addLayers(entity);
    found.put(type.name().toString(), entity);
    return entity;
  }

  /** What follows the package, of a nested class with the classes around it. */
  private static String unqualified(ClassInfo type) {
    String name = type.name().toString();
    return name.substring(name.lastIndexOf('.') + 1);
  }

  private Inheritance inheritance(ClassInfo root) {
    Optional<Inheritance> written =
        Marks.find(root, "Inheritance")
            .map(it -> Marks.constant(it, "strategy").orElse("SINGLE_TABLE"))
            .map(Inheritance::valueOf);
    return written.orElse(
        extendedEntities.contains(root.name().toString()) || Marks.has(root, "DiscriminatorColumn")
            ? Inheritance.SINGLE_TABLE
            : Inheritance.NONE);
  }

  private Access access(ClassInfo type, Optional<EntityClass> parent) {
    for (ClassInfo at = type; at != null; at = superclass(at).orElse(null)) {
      Optional<Access> byIdentifier = Members.accessByIdentifier(at);
      if (byIdentifier.isPresent()) {
        return byIdentifier.get();
      }
    }
    return parent.map(it -> it.access).orElse(Access.FIELD);
  }

  /** The classes between the entity and the next one above, the topmost first. */
  private void addLayers(EntityClass entity) {
    List<Layer> own = new ArrayList<>();
    TypeArguments arguments = TypeArguments.NONE;
    ClassInfo type = entity.type;
    while (type != null) {
      boolean isOwn = type == entity.type;
      if (!isOwn && Marks.has(type, "Entity")) {
        break;
      }
      if (isOwn || Marks.has(type, "MappedSuperclass")) {
        own.add(0, new Layer(type, arguments, entity));
      }
      Type written = type.superClassType();
      ClassInfo above = superclass(type).orElse(null);
      arguments = above == null ? arguments : arguments.ofSuperclass(above, written);
      type = above;
    }
    entity.layers.addAll(own);
  }

  private Optional<ClassInfo> superclass(ClassInfo type) {
    DotName name = type.superName();
    return name == null ? Optional.empty() : classes.lookUp(name).map(ClassFile::info);
  }

  private Optional<ClassInfo> superEntity(ClassInfo type) {
    Set<DotName> seen = new HashSet<>();
    for (ClassInfo at = superclass(type).orElse(null);
        at != null && seen.add(at.name());
        at = superclass(at).orElse(null)) {
      if (Marks.has(at, "Entity")) {
        return Optional.of(at);
      }
    }
    return Optional.empty();
  }

  /** The types that a converter takes on everywhere. */
  private Set<String> convertedTypes() {
    Set<String> result = new HashSet<>();
    for (ClassFile file : classes.all()) {
      boolean everywhere =
          Marks.find(file.info(), "Converter")
              .map(it -> it.value("autoApply"))
              .filter(value -> value.asBoolean())
              .isPresent();
      if (everywhere) {
        for (Type implemented : file.info().interfaceTypes()) {
          if (CONVERTERS.contains(implemented.name().toString())
              && implemented.kind() == Type.Kind.PARAMETERIZED_TYPE) {
            result.add(implemented.asParameterizedType().arguments().get(0).name().toString());
          }
        }
      }
    }
    return result;
  }
}
