package dev.colonnade.report;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.PrettyPrinter;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectWriter;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Collection;
import java.util.Set;
import java.util.function.Function;

/**
 * JSON in one fixed form: keys in the order given, two spaces, {@code \n} whatever the platform.
 */
final class JsonText {
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;
  private static final ObjectWriter WRITER = writer();

  private JsonText() {}

  private static ObjectWriter writer() {
    DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
    printer.indentObjectsWith(new DefaultIndenter("  ", "\n"));
    return writer(printer);
  }

  private static ObjectWriter writer(PrettyPrinter printer) {
    return JsonMapper.builder()
        .enable(StreamWriteFeature.WRITE_BIGDECIMAL_AS_PLAIN)
        .disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET)
        .build()
        .writer(printer);
  }

  /** An empty object. */
  static ObjectNode object() {
    return NODES.objectNode();
  }

  /** An array with one element for each item. */
  static <T> ArrayNode array(Collection<T> items, Function<T, JsonNode> element) {
    ArrayNode array = NODES.arrayNode();
    items.forEach(item -> array.add(element.apply(item)));
    return array;
  }

  /** An array of texts. */
  static <T> ArrayNode texts(Collection<T> items, Function<T, String> text) {
    return array(items, item -> NODES.textNode(text.apply(item)));
  }

  /** The document as text, with a line break at its end. */
  static String write(JsonNode document) {
    return write(document, WRITER);
  }

  /** The document with objects inside of so many others in one line each. */
  static String write(JsonNode document, int depth, Set<String> lists) {
    return write(document, writer(new RowPrinter(depth, lists)));
  }

  private static String write(JsonNode document, ObjectWriter writer) {
    try {
      return writer.writeValueAsString(document) + "\n";
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a tree of plain nodes can always be written", e);
    }
  }
}
