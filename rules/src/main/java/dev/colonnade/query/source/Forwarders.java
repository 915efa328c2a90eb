package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.MethodCall.Callee;
import dev.colonnade.query.source.QueryMethods.Language;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;

/** Methods of the service that hand a parameter on as the text of a query. */
final class Forwarders {
  /**
   * Such a method.
   *
   * @param method the method, its owner the class that declares it
   * @param argument the parameter that is the text
   * @param language what it is written in
   */
  record Forwarder(Callee method, int argument, Language language) {}

  private final ClassFiles classes;
  private final Map<String, List<Forwarder>> byMethod = new HashMap<>();
  private final Map<String, Set<String>> supertypes = new HashMap<>();

  Forwarders(ClassFiles classes) {
    this.classes = classes;
  }

  /** Adds one; false where it is known already. */
  boolean add(Forwarder forwarder) {
    List<Forwarder> same =
        byMethod.computeIfAbsent(
            forwarder.method().name() + forwarder.method().descriptor(), it -> new ArrayList<>());
    return !same.contains(forwarder) && same.add(forwarder);
  }

  /** The one that a call ends up in: declared by the receiver's type, or above or below it. */
  Optional<Forwarder> of(Callee callee) {
    return byMethod.getOrDefault(callee.name() + callee.descriptor(), List.of()).stream()
        .filter(it -> related(callee.owner(), it.method().owner()))
        .findFirst();
  }

  private boolean related(String one, String other) {
    return one.equals(other) || supertypes(one).contains(other) || supertypes(other).contains(one);
  }

  /** Names of all classes and interfaces above a class, as far as they are the service's. */
  Set<String> supertypes(String className) {
    return supertypes.computeIfAbsent(className, this::readSupertypes);
  }

  private Set<String> readSupertypes(String className) {
    Set<String> result = new HashSet<>();
    Deque<DotName> open = new ArrayDeque<>();
    open.add(DotName.createSimple(className));
    while (!open.isEmpty()) {
      Optional<ClassInfo> type = classes.find(open.poll());
      if (type.isPresent()) {
        List<DotName> above = new ArrayList<>(type.get().interfaceNames());
        if (type.get().superName() != null) {
          above.add(type.get().superName());
        }
        for (DotName name : above) {
          if (result.add(name.toString())) {
            open.add(name);
          }
        }
      }
    }
    return result;
  }
}
