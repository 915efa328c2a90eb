package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.analysis.RuleExplanation;
import dev.colonnade.finding.Finding;
import dev.colonnade.rule.Rule;
import dev.colonnade.rule.RuleOption;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** Runs every example of every rule's page, and sees to it that the pages are complete. */
class RuleSpecTest {
  private static final Path PAGES = Path.of("src/main/resources/dev/colonnade/rules");

  @TestFactory
  Stream<DynamicTest> every_page_is_complete() {
    return RuleRegistry.rules().stream()
        .map(rule -> DynamicTest.dynamicTest(rule.metadata().id(), () -> assertComplete(rule)));
  }

  private static void assertComplete(Rule rule) {
    String page = RuleExplanation.page(rule.metadata());
    assertThat(page.lines().filter(line -> line.startsWith("## ")))
        .containsExactly("## The problem", "## The fix", "## When not to fix", "## Examples");
    List<SpecExample> examples = SpecExample.of(page);
    assertThat(examples).anyMatch(example -> !example.findings().isEmpty());
    assertThat(examples).anyMatch(example -> example.findings().isEmpty());
    assertThat(examples.stream().flatMap(example -> example.options().stream()))
        .containsAll(rule.metadata().options().stream().map(RuleOption::name).toList());
  }

  @TestFactory
  Stream<DynamicTest> every_example_holds() {
    return RuleRegistry.rules().stream()
        .flatMap(
            rule ->
                SpecExample.of(RuleExplanation.page(rule.metadata())).stream()
                    .map(
                        example ->
                            DynamicTest.dynamicTest(
                                rule.metadata().id() + ": " + example.title(),
                                () -> assertHolds(rule, example))));
  }

  private static void assertHolds(Rule rule, SpecExample example) throws IOException {
    RuleTester tester = new RuleTester(rule, example.scene(rule.metadata()));
    if (example.findings().isEmpty() && !isFiring(example)) {
      tester.staysSilent();
      return;
    }
    String found =
        tester.findings().stream().map(Finding::render).collect(Collectors.joining("\n"));
    if (Boolean.getBoolean("docs.update") && !found.isEmpty()) {
      rewrite(rule, example, found + "\n");
      return;
    }
    assertThat(found + "\n").isEqualTo(example.findings());
  }

  /** What the heading promises stays true when the page is rewritten. */
  private static boolean isFiring(SpecExample example) {
    return example.title().startsWith("Fires");
  }

  private static void rewrite(Rule rule, SpecExample example, String found) throws IOException {
    Path file = PAGES.resolve(rule.metadata().className() + ".md");
    String page = Files.readString(file);
    int at = page.indexOf("### " + example.title() + "\n");
    int start = page.indexOf("```findings\n", at) + "```findings\n".length();
    int end = page.indexOf("```", start);
    Files.writeString(file, page.substring(0, start) + found + page.substring(end));
  }
}
