package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.mapping.EnumConstants;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.FieldInfo;

/** What all readers of one mapping share. */
final class Reading {
  final ClassFiles classes;
  final Names names;
  final Schema schema;
  final Map<String, EntityClass> entities;
  final Set<String> convertedTypes;
  final List<NotUnderstood> problems = new ArrayList<>();
  private List<AnnotationInstance> filterDefinitions;
  private final Map<String, EnumConstants> enums = new TreeMap<>();

  Reading(
      ClassFiles classes,
      Names names,
      Schema schema,
      Map<String, EntityClass> entities,
      Set<String> convertedTypes) {
    this.classes = classes;
    this.names = names;
    this.schema = schema;
    this.entities = entities;
    this.convertedTypes = convertedTypes;
  }

  Optional<ClassInfo> classOf(String name) {
    return classes.lookUp(DotName.createSimple(name)).map(ClassFile::info);
  }

  Optional<EntityClass> entity(String className) {
    return Optional.ofNullable(entities.get(className));
  }

  /** Notes the enum; true where the class is one. */
  boolean isEnum(String className) {
    Optional<ClassInfo> type = classOf(className).filter(ClassInfo::isEnum);
    type.ifPresent(it -> enums.computeIfAbsent(className, name -> constants(name, it)));
    return type.isPresent();
  }

  private static EnumConstants constants(String name, ClassInfo type) {
    return new EnumConstants(name, type.enumConstants().stream().map(FieldInfo::name).toList());
  }

  /** Definitions of filters at any class or package, found once. */
  List<AnnotationInstance> filterDefinitions() {
    if (filterDefinitions == null) {
      filterDefinitions = new ArrayList<>();
      for (ClassFile file : classes.all()) {
        filterDefinitions.addAll(Marks.all(file.info(), "FilterDef", "FilterDefs"));
      }
    }
    return filterDefinitions;
  }

  List<EnumConstants> enums() {
    return List.copyOf(enums.values());
  }

  /** True where the table has that column, or where nothing is known of the table. */
  boolean mayHaveColumn(Identifier table, Identifier column) {
    return schema.table(table).map(it -> it.column(column).isPresent()).orElse(true);
  }

  /** The table of an entity that an annotation of a column names, without its schema. */
  Identifier tableOf(EntityClass entity, String written) {
    Identifier name = names.physical(written);
    if (entity.table().unqualified().equals(name)) {
      return entity.table();
    }
    return entity.layers.stream()
        .flatMap(it -> Marks.all(it.type(), "SecondaryTable", "SecondaryTables").stream())
        .filter(it -> Marks.text(it, "name").map(names::physical).filter(name::equals).isPresent())
        .map(it -> names.table(written, Optional.of(it)))
        .findFirst()
        .orElse(name);
  }

  void problem(EntityClass entity, String reason) {
    problems.add(new NotUnderstood(entity.location, "entity " + entity.name + ": " + reason));
  }
}
