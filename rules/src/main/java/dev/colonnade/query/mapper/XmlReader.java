package dev.colonnade.query.mapper;

import dev.colonnade.query.mapper.XmlNode.Element;
import dev.colonnade.query.mapper.XmlNode.Text;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.xml.XMLConstants;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.parsers.SAXParser;
import javax.xml.parsers.SAXParserFactory;
import org.xml.sax.Attributes;
import org.xml.sax.InputSource;
import org.xml.sax.Locator;
import org.xml.sax.SAXException;
import org.xml.sax.SAXParseException;
import org.xml.sax.ext.DefaultHandler2;

/**
 * Reads XML into a tree with lines. Nothing outside of the text is fetched, whatever its document
 * type names.
 */
final class XmlReader {
  private XmlReader() {}

  /**
   * The root element.
   *
   * @throws UnreadableMapperException when the text is not well formed
   */
  static Element read(InputSource source) {
    Handler handler = new Handler();
    try {
      SAXParserFactory factory = SAXParserFactory.newInstance();
      factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
      SAXParser parser = factory.newSAXParser();
      parser.setProperty(XMLConstants.ACCESS_EXTERNAL_DTD, "");
      parser.setProperty("http://xml.org/sax/properties/lexical-handler", handler);
      parser.parse(source, handler);
    } catch (SAXParseException e) {
      throw new UnreadableMapperException(
          "the XML is not well formed: " + firstLine(e), Math.max(e.getLineNumber(), 1));
    } catch (SAXException | IOException e) {
      throw new UnreadableMapperException("the file cannot be read as XML", handler.line());
    } catch (ParserConfigurationException e) {
      throw new IllegalStateException(e);
    }
    return handler.root;
  }

  /** Messages of the parser follow the machine's language: only the kind of trouble is told. */
  private static String firstLine(SAXParseException e) {
    return "column " + Math.max(e.getColumnNumber(), 1);
  }

  private static final class Handler extends DefaultHandler2 {
    private final Deque<Element> open = new ArrayDeque<>();
    private final StringBuilder text = new StringBuilder();
    private Locator locator;
    private Element root;
    private int textLine = 1;

    /** Where what comes next starts: a tag is reported when it has been read to its end. */
    private int nextLine = 1;

    @Override
    public void setDocumentLocator(Locator value) {
      locator = value;
    }

    int line() {
      return locator == null ? 1 : Math.max(locator.getLineNumber(), 1);
    }

    @Override
    public InputSource resolveEntity(
        String name, String publicId, String baseUri, String systemId) {
      return new InputSource(new StringReader(""));
    }

    @Override
    public void startElement(String uri, String local, String name, Attributes attributes) {
      flush();
      Map<String, String> values = new LinkedHashMap<>();
      for (int i = 0; i < attributes.getLength(); i++) {
        values.put(attributes.getQName(i), attributes.getValue(i));
      }
      Element element = new Element(name, values, new ArrayList<>(), nextLine);
      if (open.isEmpty()) {
        root = element;
      } else {
        open.peek().children().add(element);
      }
      open.push(element);
      nextLine = line();
    }

    @Override
    public void endElement(String uri, String local, String name) {
      flush();
      open.pop();
      nextLine = line();
    }

    @Override
    public void characters(char[] characters, int start, int length) {
      if (text.isEmpty()) {
        textLine = nextLine;
      }
      text.append(characters, start, length);
      nextLine = line();
    }

    @Override
    public void comment(char[] characters, int start, int length) {
      flush();
      nextLine = line();
    }

    @Override
    public void endDTD() {
      nextLine = line();
    }

    @Override
    public void error(SAXParseException e) {
      // Only validity is at stake, and there is no grammar to be valid against.
    }

    @Override
    public void fatalError(SAXParseException e) throws SAXException {
      throw e;
    }

    private void flush() {
      if (!text.isEmpty() && !open.isEmpty()) {
        open.peek().children().add(new Text(text.toString(), textLine));
      }
      text.setLength(0);
    }
  }

  /** The elements of that name below the element, itself not counted. */
  static List<Element> named(Element element, String name) {
    return element.elements().stream().filter(it -> it.name().equals(name)).toList();
  }
}
