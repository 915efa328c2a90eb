package dev.colonnade.query.source;

import dev.colonnade.classfile.CallArgument;
import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import dev.colonnade.classfile.MethodCall;
import dev.colonnade.classfile.MethodCall.Callee;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;
import org.jboss.jandex.DotName;
import org.jboss.jandex.MethodInfo;

/**
 * What the callers of a SQL object's method give for the attributes of its statement that its
 * parameters define (Jdbi 3 developer guide, "@Define"). Where methods of the object itself call it
 * with what others of its methods give back, such as the name of a table, each type that inherits
 * them gives its own.
 */
final class DefinedTexts {
  private static final DotName DEFINE =
      DotName.createSimple("org.jdbi.v3.sqlobject.customizer.Define");
  private static final DotName TEXT = DotName.createSimple("java.lang.String");

  /** Of one statement of one type, so many ways to define its attributes are looked at. */
  private static final int MOST = 16;

  /**
   * What is given on objects of one type.
   *
   * @param texts by the attribute's name; one map for each way
   */
  record Use(ClassFile type, List<Map<String, String>> texts) {}

  /**
   * What is given.
   *
   * @param known where every attribute is known
   * @param open whether there may be more
   */
  record Uses(List<Use> known, boolean open) {
    private static final Uses UNKNOWN = new Uses(List.of(), true);
  }

  private final ClassFiles classes;
  private final Heirs heirs;
  private Map<String, List<MethodCall>> calls;

  DefinedTexts(ClassFiles classes, Heirs heirs) {
    this.classes = classes;
    this.heirs = heirs;
  }

  /** What the calls of a method give that a type declares. */
  Uses of(ClassFile declaring, MethodInfo method) {
    Map<String, Integer> defined = defined(method);
    if (defined.isEmpty()) {
      return Uses.UNKNOWN;
    }
    Set<DotName> family = new HashSet<>(Set.of(declaring.info().name()));
    heirs.of(declaring.info().name()).forEach(it -> family.add(it.info().name()));
    Map<String, Set<Map<String, String>>> known = new TreeMap<>();
    boolean open = false;
    for (MethodCall call : calls().getOrDefault(key(method), List.of())) {
      if (!family.contains(DotName.createSimple(call.callee().owner()))) {
        continue;
      }
      boolean ofObject = family.contains(DotName.createSimple(call.caller()));
      for (String type : ofObject ? types(call) : List.of(call.callee().owner())) {
        List<Map<String, String>> texts = new ArrayList<>();
        for (MethodCall same : ofObject ? onObject(type, call) : List.of(call)) {
          texts.addAll(texts(same, defined));
        }
        Set<Map<String, String>> ofType = known.computeIfAbsent(type, it -> new LinkedHashSet<>());
        ofType.addAll(texts);
        // A type that others extend may leave it to them to say what they define.
        open |= texts.isEmpty() && heirs.of(DotName.createSimple(type)).isEmpty();
      }
    }
    List<Use> uses = new ArrayList<>();
    for (Map.Entry<String, Set<Map<String, String>>> type : known.entrySet()) {
      open |= type.getValue().size() > MOST;
      List<Map<String, String>> some = type.getValue().stream().limit(MOST).toList();
      if (!some.isEmpty()) {
        uses.add(new Use(classes.file(DotName.createSimple(type.getKey())).orElseThrow(), some));
      }
    }
    return new Uses(uses, open || uses.isEmpty());
  }

  /** The parameters that define attributes as texts, by the attribute's name. */
  private static Map<String, Integer> defined(MethodInfo method) {
    Map<String, Integer> result = new TreeMap<>();
    for (AnnotationInstance annotation : method.annotations(DEFINE)) {
      if (annotation.target().kind() == AnnotationTarget.Kind.METHOD_PARAMETER) {
        int parameter = annotation.target().asMethodParameter().position();
        String name = SqlMethods.text(annotation, "value");
        if (name.isEmpty()) {
          name = String.valueOf(method.parameterName(parameter));
        }
        if (method.parameterType(parameter).name().equals(TEXT)) {
          result.put(name, parameter);
        }
      }
    }
    return result;
  }

  /** The types whose objects may run a method that calls: its own, and those that inherit it. */
  private List<String> types(MethodCall call) {
    return Stream.concat(
            Stream.of(call.caller()),
            heirs.of(DotName.createSimple(call.caller())).stream()
                .map(it -> it.info().name().toString()))
        .toList();
  }

  /**
   * The call, and those beside it in the same method, as an object of the type makes them; none
   * where the type may have the method replaced.
   */
  private List<MethodCall> onObject(String type, MethodCall call) {
    Optional<ClassFile> heir = classes.file(DotName.createSimple(type));
    Optional<ClassFile> caller = classes.file(DotName.createSimple(call.caller()));
    if (heir.isEmpty() || caller.isEmpty() || isReplaced(heir.get(), call)) {
      return List.of();
    }
    try {
      return classes.callsOf(heir.get(), caller.get(), call.callee()::equals).stream()
          .filter(it -> it.callerMethod().equals(call.callerMethod()))
          .filter(it -> it.callerDescriptor().equals(call.callerDescriptor()))
          .toList();
    } catch (IOException e) {
      // The class is listed as unreadable where its own statements are looked for.
      return List.of();
    }
  }

  private boolean isReplaced(ClassFile heir, MethodCall call) {
    return heirs.of(DotName.createSimple(call.caller())).stream()
        .filter(it -> it.equals(heir) || heirs.of(it.info().name()).contains(heir))
        .flatMap(it -> it.info().methods().stream())
        .anyMatch(
            it ->
                it.name().equals(call.callerMethod())
                    && it.descriptor().equals(call.callerDescriptor()));
  }

  /** Every way to define the attributes; none where one of them is not known. */
  private static List<Map<String, String>> texts(MethodCall call, Map<String, Integer> defined) {
    List<Map<String, String>> ways = List.of(Map.of());
    for (Map.Entry<String, Integer> attribute : defined.entrySet()) {
      CallArgument argument = call.arguments().get(attribute.getValue());
      boolean known =
          !argument.texts().isEmpty()
              && !argument.cut()
              && argument.texts().stream().noneMatch(it -> it.contains("${"));
      if (!known || ways.size() * argument.texts().size() > MOST) {
        return List.of();
      }
      List<Map<String, String>> more = new ArrayList<>();
      for (Map<String, String> way : ways) {
        for (String text : argument.texts()) {
          Map<String, String> longer = new HashMap<>(way);
          longer.put(attribute.getKey(), text);
          more.add(longer);
        }
      }
      ways = more;
    }
    return ways;
  }

  /** All calls of methods that define attributes, by the method's name and descriptor. */
  private Map<String, List<MethodCall>> calls() {
    if (calls == null) {
      Set<String> keys = new HashSet<>();
      for (ClassFile file : classes.all()) {
        if (file.info().annotationsMap().containsKey(DEFINE)) {
          file.info().methods().stream()
              .filter(it -> it.hasAnnotation(DEFINE))
              .forEach(it -> keys.add(key(it)));
        }
      }
      calls = new HashMap<>();
      if (!keys.isEmpty()) {
        classes.all().stream()
            .sorted(Comparator.comparing(it -> it.info().name()))
            .forEach(file -> collect(file, keys));
      }
    }
    return calls;
  }

  private void collect(ClassFile file, Set<String> keys) {
    try {
      for (MethodCall call : classes.calls(file, callee -> keys.contains(key(callee)))) {
        calls.computeIfAbsent(key(call.callee()), it -> new ArrayList<>()).add(call);
      }
    } catch (IOException e) {
      // Whoever looks for queries in the bodies of its methods lists the class.
    }
  }

  private static String key(Callee callee) {
    return callee.name() + callee.descriptor();
  }

  private static String key(MethodInfo method) {
    return method.name() + method.descriptor();
  }
}
