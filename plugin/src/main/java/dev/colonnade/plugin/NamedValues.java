package dev.colonnade.plugin;

import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.apache.maven.plugin.MojoExecutionException;

/** Joins a map of the pom with its form on the command line: {@code name=value,name=value}. */
final class NamedValues {
  private NamedValues() {}

  /**
   * The pom's values, and over them those of the command line.
   *
   * @param complaint words the trouble
   * @param parameter the parameter's name, for the message
   * @param configured the values of the pom; {@code null} for none
   * @param text the command line's value; {@code null} for none
   * @throws MojoExecutionException where the text has a part without {@code =} or without a name
   */
  static SortedMap<String, String> merge(
      Complaint complaint, String parameter, Map<String, String> configured, String text)
      throws MojoExecutionException {
    SortedMap<String, String> merged = new TreeMap<>();
    if (configured != null) {
      // Maven hands an empty element over as null.
      configured.forEach((name, value) -> merged.put(name, value == null ? "" : value));
    }
    if (text != null && !text.isBlank()) {
      for (String part : text.split(",", -1)) {
        int equals = part.indexOf('=');
        if (equals < 1 || part.substring(0, equals).isBlank()) {
          throw complaint.about(
              parameter, "'" + part.trim() + "' on the command line is not of the form name=value");
        }
        merged.put(part.substring(0, equals).trim(), part.substring(equals + 1).trim());
      }
    }
    return merged;
  }
}
