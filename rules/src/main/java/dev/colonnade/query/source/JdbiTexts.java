package dev.colonnade.query.source;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.MethodInfo;

/**
 * The text of a SQL object's method in Jdbi.
 *
 * <p>It stands in the annotation, or beside the class: as {@code package/Type/name.sql}, or as
 * template {@code name} of {@code package/Type.sql.stg} (Jdbi 3 developer guide, "SQL Locators").
 * Where a place outside is asked for, the annotation's text is the name, and where it has none, the
 * method's name is. In the text {@code <name>} stands for what the service defines when it runs or
 * for a bound list (the guide's "Templating", "Bind List"); it becomes {@code ${name}} here.
 */
final class JdbiTexts {
  private static final Pattern DEFINED = Pattern.compile("<([A-Za-z_][A-Za-z0-9_.]*)>");
  private static final Pattern NAME = Pattern.compile("[\\w.$/-]+");
  private static final List<String> TEMPLATE_GROUPS =
      List.of(
          "UseStringTemplateSqlLocator",
          "UseStringTemplate3StatementLocator",
          "ExternalizedSqlViaStringTemplate3");
  private static final List<String> OTHER_ENGINES =
      List.of("UseFreemarkerEngine", "UseFreemarkerSqlLocator", "UseTemplateEngine");

  private final Path classesDirectory;
  private final Map<Path, Optional<TemplateGroup>> groups = new HashMap<>();

  JdbiTexts(Path classesDirectory) {
    this.classesDirectory = classesDirectory;
  }

  /**
   * A text, or why there is none.
   *
   * @param text a script in {@code <script>} where it has optional parts
   */
  record Text(String text, Optional<String> problem) {
    static Text of(String text) {
      return new Text(text, Optional.empty());
    }

    static Text problem(String problem) {
      return new Text("", Optional.of(problem));
    }
  }

  /** Whether nothing in the text is left open. */
  static boolean isPlain(String text) {
    return !text.startsWith("<script>") && !text.contains("${");
  }

  /** The text of the method, whose annotation holds what is written. */
  Text of(ClassInfo type, MethodInfo method, String written) {
    String name = written.isBlank() ? method.name() : written.strip();
    if (OTHER_ENGINES.stream().anyMatch(each -> SqlMethods.carries(type, method, each))) {
      return Text.problem("a template engine makes its SQL");
    }
    if (TEMPLATE_GROUPS.stream().anyMatch(each -> SqlMethods.carries(type, method, each))) {
      return ofGroup(type, name, written);
    }
    boolean outside =
        written.isBlank()
            || SqlMethods.carries(type, method, "UseClasspathSqlLocator")
            || SqlMethods.carries(type, method, "UseAnnotationConfiguredSqlLocator");
    if (outside && NAME.matcher(name).matches()) {
      return ofFile(type, name);
    }
    return SqlMethods.carries(type, method, "UseStringTemplateEngine")
        ? TemplateGroup.EMPTY.render(written)
        : Text.of(DEFINED.matcher(written).replaceAll("\\${$1}"));
  }

  private Text ofFile(ClassInfo type, String name) {
    Path file = beside(type).resolve(name + ".sql");
    return contents(file)
        .map(sql -> Text.of(DEFINED.matcher(sql).replaceAll("\\${$1}")))
        .orElseGet(() -> missing(file));
  }

  private Text ofGroup(ClassInfo type, String name, String written) {
    Path directory = beside(type);
    Path file = directory.resolveSibling(directory.getFileName() + ".sql.stg");
    Optional<TemplateGroup> group =
        groups.computeIfAbsent(file, it -> contents(it).map(TemplateGroup::read));
    if (group.isPresent() && group.get().holds(name)) {
      return group.get().template(name);
    }
    if (!written.isBlank() && !NAME.matcher(name).matches()) {
      return group.orElse(TemplateGroup.EMPTY).render(written);
    }
    return group.isPresent()
        ? Text.problem("its template group holds no template " + name)
        : missing(file);
  }

  private Text missing(Path file) {
    String name = classesDirectory.relativize(file).toString().replace('\\', '/');
    return Text.problem("there is no file " + name + " with its SQL");
  }

  private Path beside(ClassInfo type) {
    return classesDirectory.resolve(type.name().toString().replace('.', '/'));
  }

  /** The file's text where it lies among the classes and can be read. */
  private Optional<String> contents(Path file) {
    Path normal = file.normalize();
    if (!normal.startsWith(classesDirectory.normalize()) || !Files.isRegularFile(normal)) {
      return Optional.empty();
    }
    try {
      return Optional.of(Files.readString(normal, StandardCharsets.UTF_8));
    } catch (IOException e) {
      return Optional.empty();
    }
  }
}
