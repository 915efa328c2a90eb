package dev.colonnade.mapping.xml;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;

/** Reads XML into elements with lines. Document types are passed over, nothing is fetched. */
final class XmlFile {
  private XmlFile() {}

  private static final class Open {
    private final String name;
    private final Map<String, String> attributes = new LinkedHashMap<>();
    private final List<XmlElement> children = new ArrayList<>();
    private final StringBuilder text = new StringBuilder();
    private final int line;
    private final int textLine;

    Open(String name, int line, int textLine) {
      this.name = name;
      this.line = line;
      this.textLine = textLine;
    }

    XmlElement close() {
      return new XmlElement(name, attributes, children, text.toString(), line, textLine);
    }
  }

  /**
   * The root element; nothing for a file of another kind.
   *
   * @param roots names of root elements that matter
   * @throws XMLStreamException where the text is not well formed
   */
  static Optional<XmlElement> read(InputStream in, List<String> roots)
      throws IOException, XMLStreamException {
    XMLInputFactory factory = XMLInputFactory.newDefaultFactory();
    factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
    factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
    factory.setProperty(XMLInputFactory.IS_NAMESPACE_AWARE, true);
    factory.setProperty(XMLInputFactory.IS_COALESCING, false);
    XMLStreamReader reader = factory.createXMLStreamReader(in);
    Deque<Open> open = new ArrayDeque<>();
    int line = 1;
    while (reader.hasNext()) {
      int event = reader.next();
      int end = Math.max(reader.getLocation().getLineNumber(), 1);
      if (event == XMLStreamConstants.START_ELEMENT) {
        if (open.isEmpty() && !roots.contains(reader.getLocalName())) {
          return Optional.empty();
        }
        Open element = new Open(reader.getLocalName(), line, end);
        for (int i = 0; i < reader.getAttributeCount(); i++) {
          element.attributes.put(reader.getAttributeLocalName(i), reader.getAttributeValue(i));
        }
        open.push(element);
      } else if (event == XMLStreamConstants.END_ELEMENT) {
        XmlElement closed = open.pop().close();
        if (open.isEmpty()) {
          return Optional.of(closed);
        }
        open.peek().children.add(closed);
      } else if (!open.isEmpty()
          && (event == XMLStreamConstants.CHARACTERS || event == XMLStreamConstants.CDATA)) {
        open.peek().text.append(reader.getText());
      }
      line = end;
    }
    return Optional.empty();
  }
}
