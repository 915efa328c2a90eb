package dev.colonnade.schema.liquibase;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.IdentityHashMap;
import java.util.Locale;
import javax.xml.XMLConstants;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.parsers.SAXParserFactory;
import liquibase.changelog.ChangeLogParameters;
import liquibase.changelog.DatabaseChangeLog;
import liquibase.exception.ChangeLogParseException;
import liquibase.parser.core.ParsedNode;
import liquibase.parser.core.ParsedNodeException;
import liquibase.parser.core.xml.AbstractChangeLogParser;
import liquibase.resource.ResourceAccessor;
import org.xml.sax.Attributes;
import org.xml.sax.InputSource;
import org.xml.sax.Locator;
import org.xml.sax.SAXException;
import org.xml.sax.SAXParseException;
import org.xml.sax.XMLReader;
import org.xml.sax.helpers.DefaultHandler;

/**
 * Reads XML changelogs (1.0 and 1.1) into the tree that Liquibase's own parser makes, with the
 * place of each element. Nothing is validated, and nothing outside the file is read: no schema, no
 * external entity.
 */
final class XmlParser extends AbstractChangeLogParser {

  @Override
  public boolean supports(String changeLogFile, ResourceAccessor resourceAccessor) {
    return ReadSession.current().isPresent()
        && changeLogFile.toLowerCase(Locale.ROOT).endsWith(".xml");
  }

  @Override
  public int getPriority() {
    return Parsers.PRIORITY;
  }

  @Override
  public DatabaseChangeLog parse(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    return ReadSession.current()
        .orElseThrow()
        .parse(path, () -> super.parse(path, parameters, resourceAccessor));
  }

  @Override
  protected ParsedNode parseToNode(
      String path, ChangeLogParameters parameters, ResourceAccessor resourceAccessor)
      throws ChangeLogParseException {
    ReadSession session = ReadSession.current().orElseThrow();
    TreeBuilder builder = new TreeBuilder();
    try (InputStream stream = resourceAccessor.getExisting(path).openInputStream()) {
      XMLReader reader = reader();
      reader.setContentHandler(builder);
      reader.setErrorHandler(builder);
      reader.setEntityResolver(builder);
      reader.parse(new InputSource(stream));
      return new TreeGuard(session, path, builder.marks).guarded(builder.root);
    } catch (SAXParseException e) {
      throw new ChangeLogParseException(
          "line " + e.getLineNumber() + " column " + e.getColumnNumber() + ": " + e.getMessage());
    } catch (SAXException | IOException | ParserConfigurationException | ParsedNodeException e) {
      throw new ChangeLogParseException(e.getMessage());
    }
  }

  private static XMLReader reader() throws SAXException, ParserConfigurationException {
    SAXParserFactory factory = SAXParserFactory.newDefaultInstance();
    factory.setNamespaceAware(true);
    factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
    factory.setFeature("http://apache.org/xml/features/nonvalidating/load-external-dtd", false);
    return factory.newSAXParser().getXMLReader();
  }

  private static final class TreeBuilder extends DefaultHandler {
    private final IdentityHashMap<ParsedNode, Mark> marks = new IdentityHashMap<>();
    private final Deque<ParsedNode> nodes = new ArrayDeque<>();
    private final Deque<StringBuilder> texts = new ArrayDeque<>();
    private Locator locator;
    private Mark textEnd = Mark.START;
    private ParsedNode root;

    @Override
    public void setDocumentLocator(Locator locator) {
      this.locator = locator;
    }

    @Override
    public InputSource resolveEntity(String publicId, String systemId) throws SAXException {
      String name = systemId.substring(systemId.lastIndexOf('/') + 1);
      throw new SAXParseException("external entity " + name + " is not read", locator);
    }

    @Override
    public void startElement(String uri, String localName, String name, Attributes attributes)
        throws SAXException {
      ParsedNode node = new ParsedNode(null, localName);
      try {
        for (int i = 0; i < attributes.getLength(); i++) {
          node.addChild(null, attributes.getLocalName(i), attributes.getValue(i));
        }
        if (root == null) {
          if (!localName.equals("databaseChangeLog")) {
            throw new SAXParseException(
                "root element is " + localName + ", not databaseChangeLog", locator);
          }
          root = node;
        } else {
          nodes.element().addChild(node);
        }
      } catch (ParsedNodeException e) {
        throw new SAXException(e);
      }
      marks.put(node, start(name));
      nodes.push(node);
      texts.push(new StringBuilder());
      textEnd = here();
    }

    /**
     * The parser tells where a start tag ends. The line where it starts is that of the text before
     * it, which ends where the tag begins.
     */
    private Mark start(String name) {
      Mark end = here();
      if (textEnd.line() > end.line() || name.isEmpty()) {
        return end;
      }
      return textEnd;
    }

    private Mark here() {
      return new Mark(Math.max(1, locator.getLineNumber()), Math.max(1, locator.getColumnNumber()));
    }

    @Override
    public void characters(char[] text, int start, int length) {
      texts.element().append(text, start, length);
      textEnd = here();
    }

    @Override
    public void ignorableWhitespace(char[] text, int start, int length) {
      textEnd = here();
    }

    @Override
    public void endElement(String uri, String localName, String name) throws SAXException {
      ParsedNode node = nodes.pop();
      String text = texts.pop().toString().strip();
      textEnd = here();
      if (!text.isEmpty()) {
        try {
          node.setValue(text);
        } catch (ParsedNodeException e) {
          throw new SAXException(e);
        }
      }
    }

    @Override
    public void error(SAXParseException e) throws SAXException {
      throw e;
    }

    @Override
    public void fatalError(SAXParseException e) throws SAXException {
      throw e;
    }
  }
}
