package dev.colonnade.query.source;

import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.source.KotlinSource.Declared;
import dev.colonnade.query.source.KotlinSource.Mark;
import dev.colonnade.query.source.KotlinSource.TypeFrame;
import dev.colonnade.query.source.KotlinTokens.Kind;
import dev.colonnade.query.source.KotlinTokens.Token;
import dev.colonnade.query.source.SourceLocator.Place;
import java.io.IOException;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;

/**
 * Finds where annotations stand in Kotlin sources. A source need not be named like its types nor
 * lie in its package's folder, so all of them are read, once, when the first type is asked for.
 */
final class KotlinLocator {
  /** A type and the source it stands in. */
  private record Found(String file, String source, TypeFrame type) {}

  private final Path baseDirectory;
  private final List<Path> sourceDirectories;
  private Map<String, Found> found;

  KotlinLocator(Path baseDirectory, List<Path> sourceDirectories) {
    this.baseDirectory = baseDirectory;
    this.sourceDirectories = List.copyOf(sourceDirectories);
  }

  /**
   * Where an annotation of a function stands, else the function's name.
   *
   * @param type binary name of the class
   * @param method its name in the class file, where inline classes and modules leave a mark
   * @param parameters simple names of the parameter types in the class file
   * @param occurrence which of the annotations of that name it is, counted from 0
   */
  Optional<Place> ofMethod(
      String type,
      String method,
      List<String> parameters,
      String annotation,
      String attribute,
      int occurrence) {
    return find(type)
        .flatMap(
            in ->
                function(in.type(), method, parameters)
                    .map(
                        declared ->
                            declared.marks().stream()
                                .filter(mark -> mark.name().equals(annotation))
                                .skip(occurrence)
                                .findFirst()
                                .map(mark -> place(in, mark.offset(), text(mark, attribute)))
                                .orElseGet(() -> place(in, declared.offset(), Optional.empty()))));
  }

  /** Where an annotation of a type stands: that of the named query, else the first of the name. */
  Optional<Place> ofType(String type, String annotation, String attribute, String queryName) {
    return find(type)
        .flatMap(
            in -> {
              List<Mark> marks = in.type().declared().marks();
              Optional<Place> named =
                  queryName.isEmpty()
                      ? Optional.empty()
                      : marks.stream()
                          .flatMap(mark -> mark.arguments().stream())
                          .filter(token -> token.text().equals('"' + queryName + '"'))
                          .findFirst()
                          .map(token -> place(in, token.offset(), Optional.empty()));
              return named.or(
                  () ->
                      marks.stream()
                          .filter(mark -> mark.name().equals(annotation))
                          .findFirst()
                          .map(mark -> place(in, mark.offset(), text(mark, attribute))));
            });
  }

  /** Where a type is declared: its name. */
  Optional<Place> ofDeclaration(String type) {
    return find(type).map(in -> place(in, in.type().declared().offset(), Optional.empty()));
  }

  private static Optional<Declared> function(
      TypeFrame type, String method, List<String> parameters) {
    String name = method.replaceAll("[-$].*", "");
    boolean suspends =
        !parameters.isEmpty() && parameters.get(parameters.size() - 1).equals("Continuation");
    List<String> own = suspends ? parameters.subList(0, parameters.size() - 1) : parameters;
    List<Declared> candidates =
        type.functions().stream()
            .filter(it -> it.name().equals(name) && it.parameters().size() == own.size())
            .toList();
    return candidates.stream()
        .filter(it -> alike(it.parameters(), own))
        .findFirst()
        .or(() -> candidates.stream().findFirst());
  }

  /** True where Kotlin's names of the types may stand for the class file's: Int for Integer. */
  private static boolean alike(List<String> written, List<String> compiled) {
    for (int i = 0; i < written.size(); i++) {
      String name = written.get(i);
      boolean mutable = name.startsWith("Mutable") && name.endsWith(compiled.get(i));
      if (!mutable && !compiled.get(i).regionMatches(true, 0, name, 0, name.length())) {
        return false;
      }
    }
    return true;
  }

  /** The literal that is the attribute's whole value; empty where the value is put together. */
  private static Optional<Token> text(Mark mark, String attribute) {
    List<Token> arguments = mark.arguments();
    int start = 0;
    for (int i = 0; i + 1 < arguments.size(); i++) {
      if (arguments.get(i).is(attribute) && arguments.get(i + 1).is("=")) {
        start = i + 2;
      }
    }
    boolean positional = start == 0 && attribute.equals("value");
    if (start >= arguments.size()
        || (start == 0 && !positional)
        || arguments.get(start).kind() != Kind.STRING
        || (start + 1 < arguments.size() && !arguments.get(start + 1).is(","))) {
      return Optional.empty();
    }
    Token text = arguments.get(start);
    return text.text().contains("$") || (text.text().contains("\\n") && !isRaw(text))
        ? Optional.empty()
        : Optional.of(text);
  }

  private static boolean isRaw(Token text) {
    return text.text().startsWith("\"\"\"");
  }

  private static Place place(Found in, int offset, Optional<Token> text) {
    int line = line(in.source(), offset);
    int column = offset - in.source().lastIndexOf('\n', offset - 1);
    return new Place(
        new SourceLocation(in.file(), line, column, Optional.empty()),
        text.map(it -> OptionalInt.of(line(in.source(), it.offset()))).orElse(OptionalInt.empty()));
  }

  private static int line(String source, int offset) {
    return 1 + (int) source.substring(0, offset).chars().filter(c -> c == '\n').count();
  }

  private Optional<Found> find(String type) {
    if (found == null) {
      found = new HashMap<>();
      sourceDirectories.forEach(this::readAll);
    }
    return Optional.ofNullable(found.get(type));
  }

  private void readAll(Path directory) {
    if (!Files.isDirectory(directory)) {
      return;
    }
    try (Stream<Path> files = Files.walk(directory, FileVisitOption.FOLLOW_LINKS)) {
      files
          .filter(file -> file.toString().endsWith(".kt") && Files.isRegularFile(file))
          .sorted()
          .forEach(this::read);
    } catch (IOException | RuntimeException e) {
      // The place in the source is a convenience: without it the class file is named.
      return;
    }
  }

  private void read(Path file) {
    String source;
    try {
      source = Files.readString(file);
    } catch (IOException e) {
      return; // As above.
    }
    String name = RelativePath.of(baseDirectory, file);
    KotlinSource.types(source)
        .forEach((type, declared) -> found.putIfAbsent(type, new Found(name, source, declared)));
  }
}
