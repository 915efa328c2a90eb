package dev.colonnade.query.source;

import dev.colonnade.classfile.ClassFiles;
import dev.colonnade.classfile.ClassFiles.ClassFile;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.jboss.jandex.ClassInfo;
import org.jboss.jandex.DotName;

/** The types of a service that extend one of its types, however far away, sorted by name. */
final class Heirs {
  private final ClassFiles classes;
  private final Map<DotName, List<ClassFile>> below = new HashMap<>();

  Heirs(ClassFiles classes) {
    this.classes = classes;
  }

  /** Those below a type. */
  List<ClassFile> of(DotName type) {
    if (below.isEmpty()) {
      classes.all().stream()
          .sorted(Comparator.comparing(it -> it.info().name()))
          .forEach(
              it -> {
                Set<DotName> above = new HashSet<>();
                collect(it.info(), above);
                above.forEach(name -> below.computeIfAbsent(name, at -> new ArrayList<>()).add(it));
              });
    }
    return below.getOrDefault(type, List.of());
  }

  private void collect(ClassInfo type, Set<DotName> above) {
    Stream.concat(Stream.ofNullable(type.superName()), type.interfaceNames().stream())
        .filter(above::add)
        .forEach(name -> classes.find(name).ifPresent(it -> collect(it, above)));
  }
}
