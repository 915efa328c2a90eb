package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.source.SourceLocator.Place;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.MethodInfo;

/**
 * Finds queries in the annotations of compiled classes, without loading any of them, and their
 * lines in the Java sources.
 *
 * <p>A query's id is {@code package.Type.method}; of overloaded methods with queries the second in
 * the order of their parameter types is {@code package.Type.method~2}. A count query is {@code
 * package.Type.method#count}, a named query {@code package.Type#name}, a further statement of the
 * same method {@code package.Type.method#2}.
 */
public final class RepositoryScanner {
  private static final Pattern ENTITY_NAME = Pattern.compile("#\\{\\s*#entityName\\s*}");
  private static final Pattern TEMPLATE = Pattern.compile("(?<![:?])#\\{[^}]*}");

  private final Path baseDirectory;
  private final Path classesDirectory;
  private final List<Path> sourceDirectories;
  private final List<QueryAnnotation> annotations;

  /**
   * A scanner.
   *
   * @param baseDirectory what file names are relative to
   * @param classesDirectory where the class files are; one that does not exist has none
   * @param sourceDirectories where the sources are looked up, in this order
   * @param annotations further annotations that hold SQL
   */
  public RepositoryScanner(
      Path baseDirectory,
      Path classesDirectory,
      List<Path> sourceDirectories,
      List<QueryAnnotation> annotations) {
    this.baseDirectory = baseDirectory;
    this.classesDirectory = classesDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
    this.annotations = List.copyOf(annotations);
  }

  /**
   * Every query of every class. What is JPQL, or derived from a method's name, or has no text, is
   * listed as not analysed; a class file that cannot be read becomes one entry of its own.
   */
  public FoundQueries scan() {
    return new Scan(ClassFiles.read(baseDirectory, classesDirectory)).run();
  }

  private final class Scan {
    private final ClassFiles classes;
    private final AnnotationTexts texts;
    private final SpringRepositories repositories;
    private final SourceLocator locator = new SourceLocator(baseDirectory, sourceDirectories);
    private final QueryIds ids = new QueryIds();
    private final List<QueryText> queries = new ArrayList<>();
    private final List<UnanalysedQuery> unanalysed = new ArrayList<>();

    Scan(ClassFiles classes) {
      this.classes = classes;
      this.texts = new AnnotationTexts(annotations, classes);
      this.repositories = new SpringRepositories(classes);
    }

    FoundQueries run() {
      for (ClassFile file : classes.all()) {
        if (!file.info().isAnnotation()) {
          readType(file);
          file.info().methods().stream()
              .filter(method -> !method.isSynthetic())
              .sorted(
                  Comparator.comparing(MethodInfo::name)
                      .thenComparing(method -> method.parameterTypes().toString()))
              .forEach(method -> readMethod(file, method));
        }
      }
      return new FoundQueries(queries, unanalysed, classes.unreadable());
    }

    private void readType(ClassFile file) {
      ClassInfo type = file.info();
      for (AnnotationInstance annotation : type.declaredAnnotations()) {
        for (AnnotatedText text : texts.read(annotation)) {
          Place place =
              locator
                  .ofType(typeName(type), simpleName(annotation), text.attribute(), text.name())
                  .orElseGet(() -> Place.of(file.file()));
          String ownPrefix = type.simpleName() + ".";
          String name =
              text.name().startsWith(ownPrefix)
                  ? text.name().substring(ownPrefix.length())
                  : text.name();
          String id = idOf(type) + (name.isEmpty() ? "" : "#" + name);
          add(ids.unique(id), place, text, type);
        }
      }
    }

    private void readMethod(ClassFile file, MethodInfo method) {
      String name = idOf(file.info()) + "." + method.name();
      Optional<String> id = Optional.empty();
      int main = 0;
      for (AnnotationInstance annotation : method.declaredAnnotations()) {
        for (AnnotatedText text : texts.read(annotation)) {
          if (id.isEmpty()) {
            id = Optional.of(ids.unique(name));
          }
          String suffix = text.name();
          if (suffix.isEmpty()) {
            main++;
            suffix = main > 1 ? String.valueOf(main) : "";
          }
          add(
              suffix.isEmpty() ? id.get() : ids.unique(id.get() + "#" + suffix),
              place(file, method, simpleName(annotation), text.attribute()),
              text,
              file.info());
        }
      }
      if (id.isEmpty() && repositories.isDerivedQuery(method)) {
        unanalysed.add(
            new UnanalysedQuery(
                ids.unique(name),
                place(file, method, "", "").location(),
                "derived query methods are not analysed yet"));
      }
    }

    private Place place(ClassFile file, MethodInfo method, String annotation, String attribute) {
      List<String> parameters =
          method.parameterTypes().stream().map(type -> simpleName(type.toString())).toList();
      return locator
          .ofMethod(typeName(file.info()), method.name(), parameters, annotation, attribute)
          .orElseGet(() -> Place.of(file.file()));
    }

    private void add(String id, Place place, AnnotatedText text, ClassInfo type) {
      SourceLocation location = place.location();
      if (text.problem().isPresent()) {
        unanalysed.add(new UnanalysedQuery(id, location, text.problem().get()));
        return;
      }
      String sql = text.text();
      if (text.template()) {
        Optional<String> entity = repositories.entityName(type);
        if (entity.isPresent()) {
          sql = ENTITY_NAME.matcher(sql).replaceAll(Matcher.quoteReplacement(entity.get()));
        }
        Matcher rest = TEMPLATE.matcher(sql);
        if (rest.find()) {
          unanalysed.add(
              new UnanalysedQuery(
                  id, location, "what stands for " + rest.group() + " in the SQL is not known"));
          return;
        }
      }
      queries.add(
          new QueryText(id, location, QuerySource.ANNOTATION, text.text(), sql, place.textLine()));
    }
  }

  private static String typeName(ClassInfo type) {
    return type.name().toString();
  }

  private static String idOf(ClassInfo type) {
    return typeName(type).replace('$', '.');
  }

  private static String simpleName(AnnotationInstance annotation) {
    return simpleName(annotation.name().toString());
  }

  /** The last part of a type's name, without type arguments and annotations. */
  private static String simpleName(String name) {
    String erased = name.replaceAll("<.*>", "").replaceAll("@\\S+\\s+", "");
    return erased.substring(Math.max(erased.lastIndexOf('.'), erased.lastIndexOf('$')) + 1);
  }
}
