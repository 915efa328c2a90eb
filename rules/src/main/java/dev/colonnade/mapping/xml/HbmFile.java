package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.AddedAnnotation;
import dev.colonnade.classfile.ClassAddition;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Reads one {@code hbm.xml} (Hibernate ORM's mapping documents, as its document type definition 3.0
 * describes them). A class that it maps has no other persistent members than those it names.
 */
final class HbmFile {
  private static final Pattern PROPERTY = Pattern.compile("\\{(\\w+)\\.(\\w+)}");

  private final String name;
  private final String file;
  private final HbmHierarchy hierarchy;
  private final Map<String, ClassAddition> classes;
  private final List<XmlQuery> queries;
  private final List<NotUnderstood> problems;
  private final Map<String, String> filterConditions = new HashMap<>();
  private String packageName = "";
  private Optional<String> schema = Optional.empty();
  private Optional<String> catalog = Optional.empty();

  HbmFile(
      String name,
      String file,
      HbmHierarchy hierarchy,
      Map<String, ClassAddition> classes,
      List<XmlQuery> queries,
      List<NotUnderstood> problems) {
    this.name = name;
    this.file = file;
    this.hierarchy = hierarchy;
    this.classes = classes;
    this.queries = queries;
    this.problems = problems;
  }

  void read(XmlElement root) {
    packageName = root.attribute("package").orElse("");
    schema = root.attribute("schema");
    catalog = root.attribute("catalog");
    queries(root, "");
    for (XmlElement filter : root.all("filter-def")) {
      filter
          .attribute("condition")
          .filter(it -> !it.isBlank())
          .ifPresent(it -> filterConditions.put(filter.attribute("name").orElse(""), it));
    }
    for (XmlElement child : root.children()) {
      switch (child.name()) {
        case "class", "subclass", "joined-subclass", "union-subclass" -> entity(child);
        default -> {}
      }
    }
  }

  private void queries(XmlElement parent, String prefix) {
    for (String kind : List.of("query", "sql-query")) {
      for (XmlElement query : parent.all(kind)) {
        queries.add(
            new XmlQuery(
                name,
                prefix + query.attribute("name").orElse(""),
                kind.equals("sql-query") ? withColumns(query) : query.text(),
                kind.equals("sql-query"),
                location(query),
                query.textLine()));
      }
    }
  }

  /** SQL with the columns of properties that it names: {@code {v.name}}. */
  private String withColumns(XmlElement query) {
    Map<String, String> returned = new HashMap<>();
    for (XmlElement entity : query.all("return")) {
      Optional<String> className = entity.attribute("class").map(this::className);
      className.ifPresent(it -> returned.put(entity.attribute("alias").orElse(""), it));
    }
    return PROPERTY
        .matcher(query.text())
        .replaceAll(
            match -> {
              List<String> columns =
                  columnsOf(returned.getOrDefault(match.group(1), ""), match.group(2));
              return Matcher.quoteReplacement(
                  columns.size() == 1 ? match.group(1) + "." + columns.get(0) : match.group());
            });
  }

  SourceLocation location(XmlElement element) {
    return SourceLocation.of(file, element.line());
  }

  void problem(XmlElement element, String reason) {
    problems.add(new NotUnderstood(location(element), reason));
  }

  String className(String written) {
    return HbmHierarchy.qualified(packageName, written);
  }

  /** The annotation that says which table an element means, and in which schema it is. */
  Marking table(String annotation, XmlElement element) {
    return Marking.of(annotation)
        .with("name", element.attribute("table"))
        .with("schema", element.attribute("schema").or(() -> schema))
        .with("catalog", element.attribute("catalog").or(() -> catalog));
  }

  /** The columns of a property that others refer to instead of the key. */
  List<String> columnsOf(String className, String property) {
    return hierarchy.columnsOf(className, property);
  }

  /** The property that lies in a column. */
  Optional<String> propertyOf(String className, String column) {
    return hierarchy.propertyOf(className, column);
  }

  private boolean hasHome(XmlElement element) {
    return schema.isPresent()
        || catalog.isPresent()
        || element.attribute("schema").isPresent()
        || element.attribute("catalog").isPresent();
  }

  /** What is said of a class. */
  ClassAddition addition(String className, XmlElement element) {
    ClassAddition addition =
        classes.computeIfAbsent(className, it -> new ClassAddition(it, location(element)));
    addition.makeListed();
    return addition;
  }

  /** The conditions of an element that the service switches on. */
  List<AddedAnnotation> filters(XmlElement element) {
    List<AddedAnnotation> filters =
        element.all("filter").stream().map(this::filter).collect(Collectors.toList());
    return filters.size() < 2
        ? filters
        : List.of(Marking.hibernate("Filters").with("value", filters).done());
  }

  /** One without a condition of its own has its definition's. */
  private AddedAnnotation filter(XmlElement filter) {
    String called = filter.attribute("name").orElse("");
    String condition = filter.attribute("condition").orElse(filter.text().strip());
    return Marking.hibernate("Filter")
        .with("name", called)
        .with(
            "condition",
            condition.isBlank() ? filterConditions.getOrDefault(called, "") : condition)
        .done();
  }

  private void entity(XmlElement element) {
    Optional<String> written = element.attribute("name");
    if (written.isEmpty()) {
      problem(element, "a class without a name is mapped; only classes are read");
      return;
    }
    String className = className(written.get());
    ClassAddition addition = addition(className, element);
    addition.add(Marking.of("Entity").done());
    element
        .attribute("where")
        .ifPresent(
            it -> addition.add(Marking.hibernate("SQLRestriction").with("value", it).done()));
    element
        .first("subselect")
        .ifPresent(
            it -> addition.add(Marking.hibernate("Subselect").with("value", it.text()).done()));
    filters(element).forEach(addition::add);
    boolean hasTable = !element.name().equals("subclass");
    if (hasTable && (element.attribute("table").isPresent() || hasHome(element))) {
      addition.add(table("Table", element).done());
    }
    if (element.name().equals("class")) {
      root(element, className, addition);
    }
    if (element.name().equals("joined-subclass")) {
      List<AddedAnnotation> key =
          element.first("key").map(HbmColumns::names).orElse(List.of()).stream()
              .map(it -> Marking.of("PrimaryKeyJoinColumn").with("name", it).done())
              .toList();
      Marking.contained("PrimaryKeyJoinColumns", key).forEach(addition::add);
    }
    addition.add(
        Marking.of("DiscriminatorValue")
            .with("value", element.attribute("discriminator-value").orElse(className))
            .done());
    HbmMembers members = new HbmMembers(this, addition);
    element.children().forEach(members::read);
    Marking.contained("SecondaryTables", members.furtherTables()).forEach(addition::add);
    queries(element, className + ".");
    for (XmlElement child : element.children()) {
      if (child.name().endsWith("subclass")) {
        entity(child);
      }
    }
  }

  private void root(XmlElement element, String className, ClassAddition addition) {
    hierarchy
        .strategyBelow(className)
        .ifPresent(
            it ->
                addition.add(
                    Marking.of("Inheritance")
                        .constant("strategy", "InheritanceType", Optional.of(it))
                        .done()));
    Optional<XmlElement> discriminator = element.first("discriminator");
    if (discriminator.isPresent()) {
      List<String> columns = HbmColumns.names(discriminator.get());
      Optional<String> type =
          discriminator
              .get()
              .attribute("type")
              .filter(it -> it.equals("integer") || it.equals("int") || it.equals("short"))
              .map(it -> "INTEGER");
      addition.add(
          Marking.of("DiscriminatorColumn")
              .with("name", columns.isEmpty() ? "class" : columns.get(0))
              .constant("discriminatorType", "DiscriminatorType", type)
              .done());
      HbmColumns.formula(discriminator.get())
          .ifPresent(
              it ->
                  addition.add(Marking.hibernate("DiscriminatorFormula").with("value", it).done()));
    }
  }
}
