package dev.colonnade.analysis;

import dev.colonnade.report.RuleDescription;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rules.RuleRegistry;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/** Reads the pages that explain the rules; each lies beside the class of its rule. */
public final class RuleExplanation {
  private static final String EXAMPLES = "## Examples";

  private RuleExplanation() {}

  /** What reports say about a rule: the page up to its examples. */
  public static RuleDescription describe(RuleMetadata rule) {
    String page = page(rule);
    int examples = page.indexOf(EXAMPLES);
    String explanation = (examples < 0 ? page : page.substring(0, examples)).strip() + "\n";
    return new RuleDescription(rule.id(), rule.summary(), explanation, rule.severity());
  }

  /**
   * The whole page of a rule.
   *
   * @throws IllegalStateException when the rule has none
   */
  public static String page(RuleMetadata rule) {
    String name = rule.className() + ".md";
    try (InputStream stream = RuleRegistry.class.getResourceAsStream(name)) {
      if (stream == null) {
        throw new IllegalStateException("rule " + rule.id() + " has no page " + name);
      }
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8).replace("\r\n", "\n");
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + name, e);
    }
  }
}
