package dev.colonnade.mapping.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.mapping.Aggregate;
import dev.colonnade.mapping.Aggregate.Part;
import dev.colonnade.mapping.Attribute;
import dev.colonnade.mapping.Entity;
import dev.colonnade.mapping.Inheritance;
import dev.colonnade.mapping.MappedColumn;
import dev.colonnade.mapping.Upkeep;
import dev.colonnade.mapping.source.RelationalTypes.Shape;
import dev.colonnade.predicate.Identifier;
import dev.colonnade.schema.Schema;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.Type;

/** Puts one aggregate together. */
final class AggregateBuilder {
  private static final int NESTING = 8;

  private final ClassFiles classes;
  private final Schema schema;
  private final RelationalMarks marks;
  private final RelationalTypes types;
  private final RelationalTable tables;
  private final PartKeys keys;
  private final ClassFile file;
  private final boolean reactive;
  private final List<Part> parts = new ArrayList<>();
  private final List<String> unchanged = new ArrayList<>();
  private final List<NotUnderstood> problems = new ArrayList<>();
  private String name;

  AggregateBuilder(
      ClassFiles classes,
      Schema schema,
      RelationalMarks marks,
      RelationalTypes types,
      ClassFile file,
      boolean reactive) {
    this.classes = classes;
    this.schema = schema;
    this.marks = marks;
    this.types = types;
    this.tables = new RelationalTable(marks, schema);
    this.keys = new PartKeys(marks, types);
    this.file = file;
    this.reactive = reactive;
  }

  List<NotUnderstood> problems() {
    return problems;
  }

  /** The aggregate, its root under that name. */
  Aggregate build(String rootName) {
    name = rootName;
    ClassInfo type = file.info();
    AggregateOwner root = new AggregateOwner(type, "", tables.of(type), Optional.empty());
    Entity entity = entity(root, TypeArguments.NONE, rootName, type.name().toString());
    if (root.id.isEmpty()) {
      problem("it has no identifier that can be read");
    }
    return new Aggregate(entity, reactive, unchanged, root.joined, parts);
  }

  private Entity entity(
      AggregateOwner owner, TypeArguments arguments, String entityName, String className) {
    if (tables.written(owner.type).filter(it -> it.contains("#{")).isPresent()) {
      problem("the name of the table of " + owner.type.name() + " is computed, which is not read");
    }
    List<RelationalProperty> properties =
        RelationalProperty.of(owner.type, arguments, classes, marks);
    owner.id = identifier(owner, properties);
    List<Attribute> attributes = new ArrayList<>();
    attributes(owner, properties, "", "", attributes);
    List<Attribute> id = owner.id;
    return new Entity(
        entityName,
        className,
        false,
        owner.table,
        List.of(),
        Optional.empty(),
        Optional.empty(),
        Inheritance.NONE,
        Optional.empty(),
        id,
        owner.version,
        attributes,
        List.of(),
        Upkeep.PLAIN,
        file.mapping());
  }

  private List<Attribute> identifier(AggregateOwner owner, List<RelationalProperty> properties) {
    List<Attribute> result = new ArrayList<>();
    for (RelationalProperty property : properties) {
      if (marks.has(property.targets(), RelationalMarks.ID)) {
        attribute(owner, property, "", "", result);
      }
    }
    return result.isEmpty() ? result : List.of(result.get(0));
  }

  /**
   * Adds attributes.
   *
   * @param prefix what embedded ones put in front of columns
   * @param inside the path to the embedded one they lie in, with a dot behind; empty for none
   */
  private void attributes(
      AggregateOwner owner,
      List<RelationalProperty> properties,
      String prefix,
      String inside,
      List<Attribute> attributes) {
    for (RelationalProperty property : properties) {
      boolean isId = inside.isEmpty() && marks.has(property.targets(), RelationalMarks.ID);
      if (owner.path.isEmpty()
          && (isId
              || marks.has(property.targets(), RelationalMarks.READ_ONLY)
              || marks.has(property.targets(), RelationalMarks.INSERT_ONLY))) {
        unchanged.add(inside + property.name());
      }
      if (marks.has(property.targets(), RelationalMarks.VERSION)) {
        owner.version = Optional.of(inside + property.name());
      }
      if (isId) {
        attributes.addAll(owner.id);
      } else {
        attribute(owner, property, prefix, inside, attributes);
      }
    }
  }

  private void attribute(
      AggregateOwner owner,
      RelationalProperty property,
      String prefix,
      String inside,
      List<Attribute> attributes) {
    Shape shape = types.of(property);
    Optional<String> embedded = embeddedPrefix(property);
    boolean isId = marks.has(property.targets(), RelationalMarks.ID);
    if (shape instanceof Shape.One one && (embedded.isPresent() || isId)) {
      embedded(owner, property, one, prefix + embedded.orElse(""), inside, attributes);
    } else if (shape instanceof Shape.Value
        || reactive
        || liesInColumn(owner, property, prefix, shape)) {
      attributes.add(basic(owner, property, prefix, shape));
    } else {
      part(owner, property, shape, inside, attributes);
    }
  }

  private Optional<String> embeddedPrefix(RelationalProperty property) {
    for (String kind : List.of("", "$Nullable", "$Empty")) {
      Optional<AnnotationInstance> mark =
          marks.find(property.targets(), RelationalMarks.EMBEDDED + kind);
      if (mark.isPresent()) {
        Optional<String> prefix = Marks.text(mark, "prefix");
        return kind.isEmpty()
            ? prefix.or(() -> Optional.of(""))
            : prefix.or(() -> Marks.text(mark, "value")).or(() -> Optional.of(""));
      }
    }
    return Optional.empty();
  }

  private void embedded(
      AggregateOwner owner,
      RelationalProperty property,
      Shape.One one,
      String prefix,
      String inside,
      List<Attribute> attributes) {
    if (inside.chars().filter(it -> it == '.').count() > NESTING) {
      problem("attribute " + property.name() + " contains itself");
      return;
    }
    ClassInfo type = one.type().info();
    List<Attribute> inner = new ArrayList<>();
    attributes(
        owner,
        RelationalProperty.of(
            type, property.arguments().ofSuperclass(type, one.written()), classes, marks),
        prefix,
        inside + property.name() + ".",
        inner);
    attributes.add(new Attribute.Embedded(property.name(), type.name().toString(), inner));
  }

  /**
   * True where the table has the column that the property would lie in and the schema has no table
   * for its class: a converter writes it that cannot be seen.
   */
  private boolean liesInColumn(
      AggregateOwner owner, RelationalProperty property, String prefix, Shape shape) {
    ClassFile type = shape instanceof Shape.One one ? one.type() : ((Shape.Many) shape).type();
    return schema.table(tables.of(type.info())).isEmpty()
        && schema.table(owner.table).flatMap(it -> it.column(column(property, prefix))).isPresent();
  }

  private Identifier column(RelationalProperty property, String prefix) {
    return new Identifier(
        prefix
            + Marks.text(marks.find(property.targets(), RelationalMarks.COLUMN), "value")
                .map(it -> Identifier.of(it).text())
                .orElseGet(() -> RelationalNames.of(property.name())));
  }

  private Attribute.Basic basic(
      AggregateOwner owner, RelationalProperty property, String prefix, Shape shape) {
    String className =
        shape instanceof Shape.Value value
            ? value.className()
            : TypeArguments.className(property.type());
    return new Attribute.Basic(
        property.name(),
        new MappedColumn(owner.table, column(property, prefix)),
        types.valueType(className));
  }

  private void part(
      AggregateOwner owner,
      RelationalProperty property,
      Shape shape,
      String inside,
      List<Attribute> attributes) {
    Optional<Shape.Many> many = shape instanceof Shape.Many it ? Optional.of(it) : Optional.empty();
    ClassFile type = shape instanceof Shape.One one ? one.type() : many.orElseThrow().type();
    Type written = shape instanceof Shape.One one ? one.written() : many.orElseThrow().written();
    String path = owner.pathTo(inside + property.name());
    AggregateOwner part =
        new AggregateOwner(type.info(), path, tables.of(type.info()), Optional.of(owner));
    if (owner.isOf(type.info())) {
      problem("part " + path + " contains itself");
      return;
    }
    AggregateOwner identified = owner.identified();
    List<Attribute.Basic> back = keys.back(property, part, identified);
    part.key = many.filter(Shape.Many::keyed).map(it -> keys.key(property, part, it));
    part.readBy = PartKeys.readBy(owner, part, back);
    int place = parts.size();
    Entity read =
        entity(
            part,
            property.arguments().ofSuperclass(type.info(), written),
            name + "$" + path.replace('.', '$'),
            file.info().name() + "." + path);
    Entity entity = PartKeys.withKeys(read, back, part);
    parts.add(
        place,
        new Part(
            path,
            entity,
            Optional.of(identified.path).filter(it -> !it.isEmpty()),
            back.stream().map(Attribute.Basic::name).toList(),
            part.readBy.stream().map(Attribute.Basic::name).toList(),
            part.key.map(Attribute.Basic::name),
            many.filter(Shape.Many::ordered).isPresent(),
            many.isPresent(),
            !part.id.isEmpty(),
            !marks.has(property.targets(), RelationalMarks.READ_ONLY),
            part.joined));
    attributes.add(PartKeys.reference(property, entity, back, identified, many));
    if (many.isEmpty()) {
      owner.joined.add(inside + property.name());
      part.joined.forEach(it -> owner.joined.add(inside + property.name() + "." + it));
    }
  }

  private void problem(String reason) {
    problems.add(
        new NotUnderstood(SourceLocation.of(file.file()), "aggregate " + name + ": " + reason));
  }
}
