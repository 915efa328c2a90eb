package dev.colonnade.classfile;

import dev.colonnade.classfile.MethodCall.Callee;
import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.RelativePath;
import dev.colonnade.location.SourceLocation;
import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitOption;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;
import org.jboss.jandex.Indexer;

/**
 * The classes of a directory, read as data: none is loaded. Each file is read on its own, so that
 * one that cannot be read costs nothing but itself.
 */
public final class ClassFiles {
  /**
   * A class and the file it was read from.
   *
   * @param file the file as seen from the base directory
   * @param mappedAt where a mapping file speaks of the class
   */
  public record ClassFile(ClassInfo info, String file, Optional<SourceLocation> mappedAt) {
    /** Where the class is mapped: in the mapping file that does, else in the class file. */
    public SourceLocation mapping() {
      return mappedAt.orElseGet(() -> SourceLocation.of(file));
    }
  }

  private final Map<String, ClassFile> classes = new TreeMap<>();
  private final Map<String, Path> paths = new HashMap<>();
  private final Map<String, Optional<ClassFile>> fromLibraries = new HashMap<>();
  private final Map<String, Map<String, String>> staticTexts = new HashMap<>();
  private final OtherClasses others = new Others();
  private final List<NotUnderstood> unreadable = new ArrayList<>();

  private final Path baseDirectory;
  private final Map<String, ClassAddition> additions;
  private final Libraries libraries;

  private ClassFiles(
      Path baseDirectory, Map<String, ClassAddition> additions, List<Path> classPath) {
    this.baseDirectory = baseDirectory;
    this.additions = additions;
    this.libraries = new Libraries(classPath);
  }

  /** Reads every class file under the directory; a directory that is not there has none. */
  public static ClassFiles read(Path baseDirectory, Path directory) {
    return read(baseDirectory, directory, Map.of(), List.of());
  }

  /**
   * Reads every class file under the directory, with what mapping files say of the classes as if it
   * were annotated there.
   *
   * @param additions by the binary name of the class; one whose class is not there is listed
   * @param classPath jars and directories in which {@link #lookUp} finds further classes
   */
  public static ClassFiles read(
      Path baseDirectory,
      Path directory,
      Map<String, ClassAddition> additions,
      List<Path> classPath) {
    ClassFiles result = new ClassFiles(baseDirectory, additions, classPath);
    for (Path file : result.filesIn(baseDirectory, directory)) {
      String name = RelativePath.of(baseDirectory, file);
      try {
        ClassAddition addition = additions.get(className(directory, file));
        ClassInfo info = addition == null ? index(file) : result.index(file, directory, addition);
        ClassFile read =
            new ClassFile(info, name, Optional.ofNullable(addition).map(ClassAddition::location));
        if (result.classes.putIfAbsent(info.name().toString(), read) == null) {
          result.paths.put(info.name().toString(), file);
        }
      } catch (IOException | RuntimeException e) {
        result.unreadable.add(
            entry(
                name,
                "the class file cannot be read: it is damaged, cut off or of an unknown format"));
      }
    }
    for (ClassAddition addition : additions.values()) {
      if (result.lookUp(DotName.createSimple(addition.className())).isEmpty()) {
        result.unreadable.add(
            new NotUnderstood(
                addition.location(),
                "class " + addition.className() + ", which is mapped here, is not there"));
      }
    }
    return result;
  }

  private static String className(Path directory, Path file) {
    String path = directory.relativize(file).toString().replace('\\', '/');
    return path.substring(0, path.length() - ".class".length()).replace('/', '.');
  }

  private ClassInfo index(Path file, Path directory, ClassAddition addition) throws IOException {
    byte[] rewritten =
        ClassRewriter.rewrite(
            Files.readAllBytes(file),
            addition,
            name -> classFile(directory, name).or(() -> libraryClass(name)));
    return index(new ByteArrayInputStream(rewritten));
  }

  private static Optional<byte[]> classFile(Path directory, String internalName) {
    Path file = directory.resolve(internalName + ".class");
    try {
      return Files.isRegularFile(file) ? Optional.of(Files.readAllBytes(file)) : Optional.empty();
    } catch (IOException e) {
      // It is listed as unreadable when its turn comes.
      return Optional.empty();
    }
  }

  private static ClassInfo index(Path file) throws IOException {
    try (InputStream in = new BufferedInputStream(Files.newInputStream(file))) {
      return index(in);
    }
  }

  private static ClassInfo index(InputStream in) throws IOException {
    Indexer indexer = new Indexer();
    indexer.index(in);
    return indexer.complete().getKnownClasses().iterator().next();
  }

  private List<Path> filesIn(Path baseDirectory, Path directory) {
    List<Path> files = new ArrayList<>();
    if (!Files.isDirectory(directory)) {
      return files;
    }
    try {
      Files.walkFileTree(
          directory,
          EnumSet.of(FileVisitOption.FOLLOW_LINKS),
          Integer.MAX_VALUE,
          new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult preVisitDirectory(Path visited, BasicFileAttributes attributes) {
              return directory.relativize(visited).startsWith("META-INF")
                  ? FileVisitResult.SKIP_SUBTREE
                  : FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
              String name = file.getFileName().toString();
              if (name.endsWith(".class") && !name.equals("module-info.class")) {
                files.add(file);
              }
              return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFileFailed(Path file, IOException problem) {
              unreadable.add(
                  entry(RelativePath.of(baseDirectory, file), "the file cannot be read"));
              return FileVisitResult.CONTINUE;
            }
          });
    } catch (IOException e) {
      unreadable.add(
          entry(RelativePath.of(baseDirectory, directory), "the directory cannot be read"));
    }
    files.sort(Comparator.naturalOrder());
    return files;
  }

  private static NotUnderstood entry(String file, String reason) {
    return new NotUnderstood(SourceLocation.of(file), reason);
  }

  /** The classes, sorted by name. */
  public Collection<ClassFile> all() {
    return classes.values();
  }

  /** The class of that name, where it is one of the directory's. */
  public Optional<ClassInfo> find(DotName name) {
    return Optional.ofNullable(classes.get(name.toString())).map(ClassFile::info);
  }

  /**
   * The class of that name, where it is one of the directory's or of the class path's. What a
   * library holds is part of the service only where the service builds on it: a superclass, the
   * class of an attribute, an entity that is referred to.
   */
  public Optional<ClassFile> lookUp(DotName name) {
    ClassFile own = classes.get(name.toString());
    return own != null
        ? Optional.of(own)
        : fromLibraries.computeIfAbsent(name.toString(), this::inLibraries);
  }

  private Optional<ClassFile> inLibraries(String name) {
    Optional<Libraries.Place> place = libraries.find(name);
    if (place.isEmpty()) {
      return Optional.empty();
    }
    try {
      byte[] bytes = place.get().read();
      ClassAddition addition = additions.get(name);
      if (addition != null) {
        bytes = ClassRewriter.rewrite(bytes, addition, this::libraryClass);
      }
      String file = RelativePath.of(baseDirectory, place.get().path());
      return Optional.of(
          new ClassFile(
              index(new ByteArrayInputStream(bytes)),
              place.get().entry().isEmpty() ? file : file + "!/" + place.get().entry(),
              Optional.ofNullable(addition).map(ClassAddition::location)));
    } catch (IOException | RuntimeException e) {
      // As if the library had no such class: whoever needs it says that it is missing.
      return Optional.empty();
    }
  }

  private Optional<byte[]> libraryClass(String internalName) {
    try {
      Optional<Libraries.Place> place = libraries.find(internalName.replace('/', '.'));
      return place.isEmpty() ? Optional.empty() : Optional.of(place.get().read());
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /**
   * The classes of the class path that carry one of the annotations: those in modules of the same
   * build, in jars that say that they hold entities, and those that mapping files speak of.
   */
  public List<ClassFile> inLibraries(Set<DotName> annotations) {
    List<ClassFile> result = new ArrayList<>();
    Set<String> names = new LinkedHashSet<>(libraries.candidates());
    names.addAll(additions.keySet());
    for (String name : names) {
      Optional<ClassFile> file =
          classes.containsKey(name) ? Optional.empty() : lookUp(DotName.createSimple(name));
      if (file.isPresent() && annotations.stream().anyMatch(file.get().info()::hasAnnotation)) {
        result.add(file.get());
      }
    }
    return result;
  }

  /** True for a class of the directory itself. */
  public boolean isOwn(DotName name) {
    return classes.containsKey(name.toString());
  }

  /** The class of that name with its file. */
  public Optional<ClassFile> file(DotName name) {
    return Optional.ofNullable(classes.get(name.toString()));
  }

  /**
   * The calls of chosen methods in the bodies of a class's methods, with the texts given to them as
   * far as they are constant in the class files.
   *
   * @param type one of these classes
   * @param chosen which calls matter: by the static type of the receiver, so a method of a
   *     superclass is called on its subclass
   * @throws IOException where the file can be read no more, or holds code that cannot be read
   */
  public List<MethodCall> calls(ClassFile type, Predicate<Callee> chosen) throws IOException {
    return calls(type, chosen, Optional.empty());
  }

  /**
   * The calls that a class's methods make on an object of another class, which inherits them: what
   * other methods give back is what those of that class do.
   */
  public List<MethodCall> callsOf(ClassFile heir, ClassFile type, Predicate<Callee> chosen)
      throws IOException {
    return calls(type, chosen, Optional.of(heir.info().name().toString()));
  }

  private List<MethodCall> calls(
      ClassFile type, Predicate<Callee> chosen, Optional<String> receiver) throws IOException {
    try {
      return new MethodCalls(chosen, others, receiver).in(bytes(type.info().name().toString()));
    } catch (RuntimeException e) {
      throw new IOException("the code of the class file cannot be read", e);
    }
  }

  /**
   * The objects of a class that straight code of another makes; empty where its code is not so.
   *
   * @param made binary name of the class of the objects
   * @throws IOException where the class file cannot be read
   */
  public Optional<List<Made.Instance>> made(ClassFile type, String made) throws IOException {
    try {
      return StraightCode.objects(bytes(type.info().name().toString()), made);
    } catch (RuntimeException e) {
      return Optional.empty();
    }
  }

  /**
   * The texts that a class's methods of one name give back, put together as those of {@link #calls}
   * are; none where the class is not one of these, or they are not known.
   */
  public List<String> returnedTexts(String className, String method) {
    if (!paths.containsKey(className)) {
      return List.of();
    }
    try {
      return MethodTexts.returned(bytes(className), method, others);
    } catch (IOException | RuntimeException e) {
      // Whoever asks says that the texts are not known.
      return List.of();
    }
  }

  private final class Others implements OtherClasses {
    private final Map<String, List<String>> extended = new HashMap<>();

    @Override
    public Optional<String> text(String className, String field) {
      return staticText(className, field);
    }

    @Override
    public Optional<byte[]> file(String className) {
      try {
        return paths.containsKey(className) ? Optional.of(bytes(className)) : Optional.empty();
      } catch (IOException e) {
        // As if the class were of a library: what it does is not known.
        return Optional.empty();
      }
    }

    @Override
    public List<byte[]> below(String className) {
      if (extended.isEmpty()) {
        classes
            .values()
            .forEach(
                it ->
                    extended
                        .computeIfAbsent(
                            String.valueOf(it.info().superName()), key -> new ArrayList<>())
                        .add(it.info().name().toString()));
      }
      List<byte[]> result = new ArrayList<>();
      for (String child : extended.getOrDefault(className, List.of()).stream().sorted().toList()) {
        file(child).ifPresent(result::add);
        result.addAll(below(child));
      }
      return result;
    }
  }

  private byte[] bytes(String className) throws IOException {
    return Files.readAllBytes(paths.get(className));
  }

  /** The constant text of a static field of one of these classes. */
  private Optional<String> staticText(String className, String field) {
    if (!paths.containsKey(className)) {
      return Optional.empty();
    }
    Map<String, String> known = staticTexts.get(className);
    if (known == null) {
      // Entered before it is filled: initializers that read each other's fields find nothing.
      known = new HashMap<>();
      staticTexts.put(className, known);
      try {
        for (MethodCalls.StaticText text :
            MethodCalls.staticTexts(bytes(className), this::staticText)) {
          known.put(text.name(), text.text());
        }
      } catch (IOException | RuntimeException e) {
        // The class is listed as unreadable or as a class whose code is; its fields are not known.
        known.clear();
      }
    }
    return Optional.ofNullable(known.get(field));
  }

  /** One entry for each file that could not be read. */
  public List<NotUnderstood> unreadable() {
    return unreadable;
  }
}
