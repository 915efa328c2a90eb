package dev.colonnade.mapping.xml;

import dev.colonnade.classfile.ClassAddition;
import dev.colonnade.location.NotUnderstood;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * What the mapping files of a service say.
 *
 * @param classes of classes, by binary name
 * @param queries the queries in them
 * @param problems files and parts that cannot be read
 */
public record XmlMappings(
    Map<String, ClassAddition> classes, List<XmlQuery> queries, List<NotUnderstood> problems) {
  /** A service without mapping files. */
  public static final XmlMappings NONE = new XmlMappings(Map.of(), List.of(), List.of());

  /** Copies the collections, classes sorted. */
  public XmlMappings {
    classes = Collections.unmodifiableMap(new TreeMap<>(classes));
    queries = List.copyOf(queries);
    problems = List.copyOf(problems);
  }
}
