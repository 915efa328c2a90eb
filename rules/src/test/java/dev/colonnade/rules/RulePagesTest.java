package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.analysis.RuleExplanation;
import dev.colonnade.rule.Category;
import dev.colonnade.rule.Rule;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * The committed pages under {@code docs/rules} are what the registry and the rules' own pages
 * yield. {@code -Ddocs.update=true} rewrites them; a page that differs leaves its {@code _actual}
 * under {@code target/rules}.
 */
class RulePagesTest {
  private static final Path DOCS = Path.of("../docs/rules");
  private static final Path ACTUAL = Path.of("target/rules");

  @TestFactory
  Stream<DynamicTest> each_page_is_current() {
    return RuleRegistry.metadata().stream()
        .map(rule -> DynamicTest.dynamicTest(rule.id(), () -> compare(rule.id(), page(rule))));
  }

  @Test
  void the_list_is_current() throws IOException {
    compare("index", index());
  }

  @Test
  void there_is_no_page_without_a_rule() throws IOException {
    List<String> expected =
        Stream.concat(Stream.of("index"), RuleRegistry.metadata().stream().map(RuleMetadata::id))
            .map(name -> name + ".md")
            .toList();
    try (Stream<Path> pages = Files.list(DOCS)) {
      assertThat(pages.map(page -> page.getFileName().toString()))
          .containsExactlyInAnyOrderElementsOf(expected);
    }
  }

  private static void compare(String name, String actual) throws IOException {
    Path committed = DOCS.resolve(name + ".md");
    if (Boolean.getBoolean("docs.update")) {
      Files.createDirectories(DOCS);
      Files.writeString(committed, actual);
    }
    String expected = Files.exists(committed) ? Files.readString(committed) : "";
    if (!expected.equals(actual)) {
      Files.createDirectories(ACTUAL);
      Files.writeString(ACTUAL.resolve(name + "_actual.md"), actual);
    }
    assertThat(actual).as("docs/rules/%s.md", name).isEqualTo(expected.replace("\r\n", "\n"));
  }

  private static String page(RuleMetadata rule) {
    StringBuilder page = new StringBuilder(generated(rule.className() + ".md"));
    page.append("# ").append(rule.id()).append("\n\n");
    page.append(capitalized(rule.summary())).append(".\n\n");
    page.append("| severity | looks at | since | earlier ids |\n| --- | --- | --- | --- |\n");
    page.append("| ").append(rule.severity().word());
    page.append(" | ").append(rule.category().heading());
    page.append(" | ").append(rule.since());
    page.append(" | ").append(orNone(String.join(", ", rule.aliases()))).append(" |\n\n");
    if (!rule.options().isEmpty()) {
      page.append("| option | default | meaning |\n| --- | --- | --- |\n");
      for (RuleOption<?> option : rule.options()) {
        page.append("| `").append(option.name()).append("` | ").append(option.defaultValue());
        page.append(" | ").append(option.description()).append(" |\n");
      }
      page.append('\n');
    }
    page.append("To weigh it differently, or to turn it off:\n\n```xml\n<severities>\n  <")
        .append(rule.id())
        .append(">off</")
        .append(rule.id())
        .append(">\n</severities>\n```\n\n");
    return page.append(RuleExplanation.page(rule).strip()).append('\n').toString();
  }

  private static String index() {
    StringBuilder page = new StringBuilder(generated("the registry"));
    page.append("# Rules\n");
    for (Category category : Category.values()) {
      page.append("\n## ").append(category.heading()).append("\n\n");
      page.append("| rule | severity | a finding says |\n| --- | --- | --- |\n");
      page.append(
          RuleRegistry.rules().stream()
              .map(Rule::metadata)
              .filter(rule -> rule.category() == category)
              .map(
                  rule ->
                      String.format(
                          "| [%s](%s.md) | %s | %s |\n",
                          rule.id(), rule.id(), rule.severity().word(), rule.summary()))
              .collect(Collectors.joining()));
    }
    return page.toString();
  }

  private static String generated(String source) {
    return "<!-- Generated from "
        + source
        + "; edit that, then run the tests with"
        + " -Ddocs.update=true. -->\n\n";
  }

  private static String capitalized(String text) {
    return Character.toUpperCase(text.charAt(0)) + text.substring(1);
  }

  private static String orNone(String text) {
    return text.isEmpty() ? "none" : text;
  }
}
