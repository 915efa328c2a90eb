package dev.colonnade.schema.liquibase;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Element;
import org.w3c.dom.NamedNodeMap;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.yaml.snakeyaml.Yaml;

/** Writes an XML changelog in the other formats. */
final class ChangelogFormats {
  /** The attribute that the text of an element stands for. */
  private static final Map<String, String> TEXTS =
      Map.of("sql", "sql", "createView", "selectQuery", "output", "message");

  private ChangelogFormats() {}

  static String yaml(Path xml) throws Exception {
    return new Yaml().dump(Map.of("databaseChangeLog", entries(xml)));
  }

  static String json(Path xml) throws Exception {
    return new ObjectMapper()
        .writerWithDefaultPrettyPrinter()
        .writeValueAsString(Map.of("databaseChangeLog", entries(xml)));
  }

  private static List<Object> entries(Path xml) throws Exception {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    List<Object> entries = new ArrayList<>();
    for (Element element :
        children(factory.newDocumentBuilder().parse(xml.toFile()).getDocumentElement())) {
      entries.add(
          Map.of(
              element.getLocalName(),
              element.getLocalName().equals("changeSet") ? changeSet(element) : map(element)));
    }
    return entries;
  }

  private static Map<String, Object> changeSet(Element element) {
    Map<String, Object> map = attributes(element);
    List<Object> changes = new ArrayList<>();
    for (Element child : children(element)) {
      if (child.getLocalName().equals("modifySql")) {
        map.put("modifySql", map(child));
      } else {
        changes.add(Map.of(child.getLocalName(), map(child)));
      }
    }
    map.put("changes", changes);
    return map;
  }

  private static Map<String, Object> map(Element element) {
    Map<String, Object> map = attributes(element);
    List<Object> columns = new ArrayList<>();
    for (Element child : children(element)) {
      switch (child.getLocalName()) {
        case "column" -> columns.add(Map.of("column", map(child)));
        case "where" -> map.put("where", child.getTextContent());
        default -> map.put(child.getLocalName(), map(child));
      }
    }
    if (!columns.isEmpty()) {
      map.put("columns", columns);
    }
    String text = TEXTS.get(element.getLocalName());
    if (text != null) {
      map.put(text, element.getTextContent());
    }
    return map;
  }

  private static Map<String, Object> attributes(Element element) {
    Map<String, Object> map = new LinkedHashMap<>();
    NamedNodeMap attributes = element.getAttributes();
    for (int i = 0; i < attributes.getLength(); i++) {
      String value = attributes.item(i).getNodeValue();
      boolean truth = value.equals("true") || value.equals("false");
      map.put(attributes.item(i).getLocalName(), truth ? (Object) Boolean.valueOf(value) : value);
    }
    return map;
  }

  private static List<Element> children(Element element) {
    List<Element> children = new ArrayList<>();
    NodeList nodes = element.getChildNodes();
    for (int i = 0; i < nodes.getLength(); i++) {
      if (nodes.item(i).getNodeType() == Node.ELEMENT_NODE) {
        children.add((Element) nodes.item(i));
      }
    }
    return children;
  }
}
