package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Aggregate;
import dev.colonnade.mapping.Aggregates;
import dev.colonnade.mapping.Entity;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;

/**
 * Reads the aggregates that Spring Data JDBC and R2DBC keep: the classes that repositories are for,
 * with what lies in further tables (Spring Data Relational reference, "Mapping"). Names follow the
 * default naming strategy. Never throws: what does not fit becomes a problem.
 */
public final class AggregateReader {
  private static final Set<String> NAMING =
      Set.of(
          "org.springframework.data.relational.core.mapping.NamingStrategy",
          "org.springframework.data.relational.core.mapping.DefaultNamingStrategy");

  private final ClassFiles classes;
  private final Schema schema;
  private final RelationalMarks marks;
  private final RelationalTypes types;

  /**
   * A reader.
   *
   * @param classes the service's classes
   * @param schema the tables that its changelog leads to, against which names are held
   */
  public AggregateReader(ClassFiles classes, Schema schema) {
    this.classes = classes;
    this.schema = schema;
    this.marks = new RelationalMarks(classes);
    this.types = new RelationalTypes(classes);
  }

  /**
   * The aggregates among the classes; those that another of Spring Data's stores keeps, and those
   * of which nothing says that a relational one does, are left out.
   *
   * @param domainTypes binary names of classes, true for one that a reactive repository is for
   */
  public AggregateReading read(Map<String, Boolean> domainTypes) {
    Map<String, Boolean> relational = new TreeMap<>();
    domainTypes.forEach(
        (name, reactive) -> {
          if (isRelational(name)) {
            relational.put(name, reactive);
          }
        });
    List<NotUnderstood> problems = new ArrayList<>();
    List<Aggregate> aggregates = new ArrayList<>();
    Set<String> names = new HashSet<>();
    for (Map.Entry<String, Boolean> root : relational.entrySet()) {
      ClassFile file = classes.lookUp(DotName.createSimple(root.getKey())).orElseThrow();
      String name = RelationalTable.simpleName(file.info());
      AggregateBuilder builder =
          new AggregateBuilder(classes, schema, marks, types, file, root.getValue());
      aggregates.add(builder.build(names.add(name) ? name : root.getKey()));
      problems.addAll(builder.problems());
    }
    List<Entity> entities = new ArrayList<>();
    for (Aggregate aggregate : aggregates) {
      entities.add(aggregate.root());
      aggregate.parts().forEach(part -> entities.add(part.entity()));
    }
    problems.addAll(new Misfits(schema, it -> false).of(entities));
    if (!aggregates.isEmpty()) {
      namingStrategy().ifPresent(problems::add);
    }
    return new AggregateReading(new Aggregates(aggregates, types.enums()), problems);
  }

  private boolean isRelational(String name) {
    Optional<ClassInfo> type = classes.lookUp(DotName.createSimple(name)).map(ClassFile::info);
    if (type.isEmpty() || RelationalMarks.isOfOtherStore(type.get())) {
      return false;
    }
    boolean marked =
        type.get().annotationsMap().keySet().stream()
            .anyMatch(it -> it.toString().startsWith("org.springframework.data.relational."));
    return marked || schema.table(new RelationalTable(marks, schema).of(type.get())).isPresent();
  }

  /** A naming strategy of the service's own says otherwise what the names are. */
  private Optional<NotUnderstood> namingStrategy() {
    return classes.all().stream()
        .filter(
            file ->
                file.info().interfaceNames().stream().anyMatch(it -> NAMING.contains(it.toString()))
                    || NAMING.contains(String.valueOf(file.info().superName())))
        .map(
            file ->
                new NotUnderstood(
                    SourceLocation.of(file.file()),
                    "the naming strategy "
                        + file.info().name()
                        + " is not read: names that are not written are taken in snake_case"))
        .findFirst();
  }
}
