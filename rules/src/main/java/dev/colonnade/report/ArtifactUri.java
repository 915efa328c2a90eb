package dev.colonnade.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.URI;
import java.net.URISyntaxException;
import java.util.Locale;

/**
 * Turns the files of source locations into artifact locations of SARIF: a relative URI with the
 * name of its base, or an absolute one without.
 */
final class ArtifactUri {
  /** Stands for the directory of the service's pom. */
  private static final String PROJECT = "PROJECT";

  /** Stands for wherever the build keeps the jars of the service's dependencies. */
  private static final String DEPENDENCIES = "DEPENDENCIES";

  private ArtifactUri() {}

  /**
   * The bases. They carry no URI, as SARIF 2.1.0 section 3.14.14 allows, so that the file does not
   * depend on where the project lies; whoever reads the file knows that.
   */
  static JsonNode bases() {
    ObjectNode bases = JsonText.object();
    bases.set(PROJECT, base("The directory of the pom of the service"));
    bases.set(DEPENDENCIES, base("The place where the build keeps the jars of dependencies"));
    return bases;
  }

  private static JsonNode base(String text) {
    ObjectNode base = JsonText.object();
    base.set("description", JsonText.object().put("text", text));
    return base;
  }

  /** The artifact location of a file as {@code SourceLocation} names it. */
  static JsonNode of(String file) {
    ObjectNode node = JsonText.object();
    if (file.startsWith("/")) {
      return node.put("uri", "file://" + escaped(file));
    }
    if (file.matches("[A-Za-z]:/.*")) {
      return node.put("uri", "file://" + escaped("/" + file));
    }
    String relative = escaped("/" + file).substring(1).replace(":", "%3A");
    boolean inArchive = file.toLowerCase(Locale.ROOT).contains(".jar!/");
    return node.put("uri", relative).put("uriBaseId", inArchive ? DEPENDENCIES : PROJECT);
  }

  private static String escaped(String absolutePath) {
    try {
      // An empty authority keeps a path that starts with two slashes a path.
      return new URI("file", "", absolutePath, null).toASCIIString().substring("file://".length());
    } catch (URISyntaxException e) {
      throw new IllegalStateException("any text can be escaped as a path: " + absolutePath, e);
    }
  }
}
