package dev.colonnade.query.source;

import com.github.javaparser.JavaParser;
import com.github.javaparser.ParseResult;
import com.github.javaparser.ParserConfiguration;
import com.github.javaparser.ast.CompilationUnit;
import com.github.javaparser.ast.Node;
import com.github.javaparser.ast.body.MethodDeclaration;
import com.github.javaparser.ast.body.TypeDeclaration;
import com.github.javaparser.ast.expr.AnnotationExpr;
import com.github.javaparser.ast.expr.Expression;
import com.github.javaparser.ast.expr.MemberValuePair;
import com.github.javaparser.ast.expr.NormalAnnotationExpr;
import com.github.javaparser.ast.expr.SingleMemberAnnotationExpr;
import com.github.javaparser.ast.expr.StringLiteralExpr;
import com.github.javaparser.ast.expr.TextBlockLiteralExpr;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Finds where annotations stand in Java sources, else in Kotlin's. Each source is parsed at most
 * once. Sources that are missing, of another language, do not parse or do not fit the class yield
 * no place.
 */
final class SourceLocator {
  /**
   * Where a query stands.
   *
   * @param location its annotation
   * @param textLine line of the first line of its text, where each line of the text is a line of
   *     the source
   */
  record Place(SourceLocation location, OptionalInt textLine) {
    /** Only the file is known. */
    static Place of(String file) {
      return new Place(SourceLocation.of(file), OptionalInt.empty());
    }
  }

  private record Source(String file, CompilationUnit unit) {}

  private final Path baseDirectory;
  private final List<Path> sourceDirectories;
  private final Map<String, Optional<Source>> sources = new HashMap<>();
  private final KotlinLocator kotlin;
  private final JavaParser parser =
      new JavaParser(
          new ParserConfiguration()
              .setLanguageLevel(ParserConfiguration.LanguageLevel.BLEEDING_EDGE)
              .setAttributeComments(false));

  SourceLocator(Path baseDirectory, List<Path> sourceDirectories) {
    this.baseDirectory = baseDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
    this.kotlin = new KotlinLocator(baseDirectory, sourceDirectories);
  }

  /**
   * Where an annotation of a method stands.
   *
   * @param type binary name of the class
   * @param parameters simple names of the parameter types, for telling overloaded methods apart
   * @param annotation simple name of the annotation; where the method has none of that name the
   *     method's own place is given
   * @param attribute the attribute of the annotation that holds the text
   */
  Optional<Place> ofMethod(
      String type, String method, List<String> parameters, String annotation, String attribute) {
    return inMethod(
            type,
            method,
            parameters,
            attribute,
            found ->
                found.getAnnotations().stream()
                    .filter(it -> it.getName().getIdentifier().equals(annotation)))
        .or(() -> kotlin.ofMethod(type, method, parameters, annotation, attribute, 0));
  }

  /**
   * Where one of several annotations of a method stands.
   *
   * @param annotation simple name of the annotation, which may stand in a container
   * @param occurrence which of that name it is, counted from 0
   */
  Optional<Place> ofMethod(
      String type, String method, List<String> parameters, String annotation, int occurrence) {
    return inMethod(
            type,
            method,
            parameters,
            "",
            found ->
                found.getAnnotations().stream()
                    .flatMap(it -> it.findAll(AnnotationExpr.class).stream())
                    .filter(it -> it.getName().getIdentifier().equals(annotation))
                    .skip(occurrence))
        .or(() -> kotlin.ofMethod(type, method, parameters, annotation, "", occurrence));
  }

  private Optional<Place> inMethod(
      String type,
      String method,
      List<String> parameters,
      String attribute,
      Function<MethodDeclaration, Stream<AnnotationExpr>> annotations) {
    return source(type)
        .flatMap(
            source ->
                declaration(source.unit(), type)
                    .flatMap(declared -> method(declared, method, parameters))
                    .flatMap(
                        found ->
                            place(
                                source,
                                annotations
                                    .apply(found)
                                    .map(Node.class::cast)
                                    .findFirst()
                                    .orElse(found.getName()),
                                attribute)));
  }

  /**
   * Where an annotation of a type stands.
   *
   * @param type binary name of the class
   * @param annotation simple name of the annotation, or of the container it stands in
   * @param attribute the attribute of the annotation that holds the text
   * @param queryName value of its attribute {@code name}, for telling several apart
   */
  Optional<Place> ofType(String type, String annotation, String attribute, String queryName) {
    return source(type)
        .flatMap(
            source ->
                declaration(source.unit(), type)
                    .flatMap(declared -> annotation(declared, annotation, queryName))
                    .flatMap(found -> place(source, found, attribute)))
        .or(() -> kotlin.ofType(type, annotation, attribute, queryName));
  }

  /** Where a type is declared: its name. */
  Optional<Place> ofDeclaration(String type) {
    return source(type)
        .flatMap(
            source ->
                declaration(source.unit(), type)
                    .flatMap(declared -> place(source, declared.getName(), "")))
        .or(() -> kotlin.ofDeclaration(type));
  }

  /**
   * The source that a class was compiled from, as its class file names it; Kotlin's may leave out
   * the first folders of its package.
   *
   * @param type binary name of the class
   * @param fileName simple name of the source
   */
  Optional<String> ofFile(String type, String fileName) {
    String folder = type.substring(0, type.length() - simpleBinaryName(type).length());
    for (String rest = folder.replace('.', '/'); ; rest = rest.substring(rest.indexOf('/') + 1)) {
      for (Path directory : sourceDirectories) {
        Path path = directory.resolve(rest + fileName);
        if (Files.isRegularFile(path)) {
          return Optional.of(RelativePath.of(baseDirectory, path));
        }
      }
      if (rest.isEmpty()) {
        return Optional.empty();
      }
    }
  }

  private static Optional<Node> annotation(
      TypeDeclaration<?> declared, String annotation, String queryName) {
    List<AnnotationExpr> onType = declared.getAnnotations();
    String quoted = '"' + queryName + '"';
    return onType.stream()
        .flatMap(outer -> outer.findAll(AnnotationExpr.class).stream())
        .filter(it -> !queryName.isEmpty() && namesQuery(it, quoted))
        .map(Node.class::cast)
        .findFirst()
        .or(
            () ->
                onType.stream()
                    .filter(it -> it.getName().getIdentifier().equals(annotation))
                    .map(Node.class::cast)
                    .findFirst());
  }

  private static boolean namesQuery(AnnotationExpr annotation, String quotedName) {
    return annotation.isNormalAnnotationExpr()
        && annotation.asNormalAnnotationExpr().getPairs().stream()
            .anyMatch(
                pair ->
                    pair.getNameAsString().equals("name")
                        && pair.getValue().toString().equals(quotedName));
  }

  private static Optional<MethodDeclaration> method(
      TypeDeclaration<?> declared, String name, List<String> parameters) {
    List<MethodDeclaration> candidates =
        declared.getMethodsByName(name).stream()
            .filter(method -> method.getParameters().size() == parameters.size())
            .toList();
    return candidates.stream()
        .filter(method -> parameterTypes(method).equals(parameters))
        .findFirst()
        .or(() -> candidates.stream().findFirst());
  }

  private static List<String> parameterTypes(MethodDeclaration method) {
    return method.getParameters().stream()
        .map(
            parameter -> {
              String written = parameter.getType().asString().replaceAll("<.*>", "");
              String simple = written.substring(written.lastIndexOf('.') + 1);
              return parameter.isVarArgs() ? simple + "[]" : simple;
            })
        .toList();
  }

  private static Optional<TypeDeclaration<?>> declaration(CompilationUnit unit, String type) {
    List<String> path = new ArrayList<>(Arrays.asList(simpleBinaryName(type).split("\\$", -1)));
    Optional<TypeDeclaration<?>> current =
        unit.getTypes().stream()
            .filter(it -> it.getNameAsString().equals(path.get(0)))
            .findFirst()
            .map(it -> it);
    for (String nested : path.subList(1, path.size())) {
      current =
          current.flatMap(
              outer ->
                  outer.getMembers().stream()
                      .filter(TypeDeclaration.class::isInstance)
                      .<TypeDeclaration<?>>map(it -> (TypeDeclaration<?>) it)
                      .filter(it -> it.getNameAsString().equals(nested))
                      .findFirst());
    }
    return current;
  }

  private Optional<Source> source(String type) {
    String simple = simpleBinaryName(type);
    int dollar = simple.indexOf('$');
    String topLevel = dollar > 0 ? simple.substring(0, dollar) : simple;
    String file =
        type.substring(0, type.length() - simple.length()).replace('.', '/') + topLevel + ".java";
    return sources.computeIfAbsent(file, this::parse);
  }

  private Optional<Source> parse(String file) {
    for (Path directory : sourceDirectories) {
      Path path = directory.resolve(file);
      if (Files.isRegularFile(path)) {
        return unit(path).map(unit -> new Source(RelativePath.of(baseDirectory, path), unit));
      }
    }
    return Optional.empty();
  }

  private Optional<CompilationUnit> unit(Path path) {
    try {
      ParseResult<CompilationUnit> result = parser.parse(Files.readString(path));
      return result.isSuccessful() ? result.getResult() : Optional.empty();
    } catch (IOException | RuntimeException | StackOverflowError e) {
      // The place in the source is a convenience: without it the class file is named.
      return Optional.empty();
    }
  }

  private static String simpleBinaryName(String type) {
    return type.substring(type.lastIndexOf('.') + 1);
  }

  private static Optional<Place> place(Source source, Node node, String attribute) {
    return node.getBegin()
        .map(
            begin ->
                new Place(
                    new SourceLocation(source.file(), begin.line, begin.column, Optional.empty()),
                    node instanceof AnnotationExpr annotation
                        ? textLine(annotation, attribute)
                        : OptionalInt.empty()));
  }

  /** The line of the text's first line; nothing for texts that are put together from parts. */
  private static OptionalInt textLine(AnnotationExpr annotation, String attribute) {
    Expression text = attributeOf(annotation, attribute).orElse(null);
    if (text == null || text.getBegin().isEmpty()) {
      return OptionalInt.empty();
    }
    int line = text.getBegin().get().line;
    if (text instanceof TextBlockLiteralExpr block) {
      // A backslash joins lines or breaks one: the lines of text and source no longer agree.
      return block.getValue().contains("\\") ? OptionalInt.empty() : OptionalInt.of(line + 1);
    }
    return text instanceof StringLiteralExpr literal && !literal.getValue().contains("\\n")
        ? OptionalInt.of(line)
        : OptionalInt.empty();
  }

  private static Optional<Expression> attributeOf(AnnotationExpr annotation, String attribute) {
    if (annotation instanceof SingleMemberAnnotationExpr single) {
      return attribute.equals("value") ? Optional.of(single.getMemberValue()) : Optional.empty();
    }
    return annotation instanceof NormalAnnotationExpr normal
        ? normal.getPairs().stream()
            .filter(pair -> pair.getNameAsString().equals(attribute))
            .findFirst()
            .map(MemberValuePair::getValue)
        : Optional.empty();
  }
}
