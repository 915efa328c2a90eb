package dev.colonnade.rules;

import static org.assertj.core.api.Assertions.assertThat;

import dev.colonnade.access.AccessPath;
import dev.colonnade.analysis.RuleExplanation;
import dev.colonnade.rule.RuleMetadata;
import dev.colonnade.rule.RuleOption;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * The words of {@code docs/glossary.md} are used, and none of the words that others use for them.
 */
class TerminologyTest {
  private static final Path GLOSSARY = Path.of("../docs/glossary.md");

  /** What not to say, and what to say instead. */
  private static final Map<String, String> SYNONYMS =
      new TreeMap<>(
          Map.ofEntries(
              Map.entry("bookmark lookup", "a row is fetched"),
              Map.entry("fast column", "selective"),
              Map.entry("filter factor", "selectivity"),
              Map.entry("filtered index", "partial index"),
              Map.entry("function-based index", "expression index"),
              Map.entry("functional index", "expression index"),
              Map.entry("index hit", "range-scan or unique-lookup"),
              Map.entry("index seek", "range-scan or unique-lookup"),
              Map.entry("index tuple", "index entry"),
              Map.entry("jump scan", "skip-scan"),
              Map.entry("key part", "key column"),
              Map.entry("non-key column", "included column"),
              Map.entry("payload column", "included column"),
              Map.entry("sequential scan", "full-table-scan"),
              Map.entry("seq scan", "full-table-scan")));

  static List<String> violations(String text) {
    String folded = text.toLowerCase(Locale.ROOT).replaceAll("\\s+", " ");
    List<String> found = new ArrayList<>();
    SYNONYMS.forEach(
        (synonym, word) -> {
          if (folded.contains(synonym)) {
            found.add("say '" + word + "' instead of '" + synonym + "'");
          }
        });
    return found;
  }

  @Test
  void a_bad_sample_is_rejected() {
    assertThat(violations("An index\n  seek on a Fast Column: 3 index hits"))
        .containsExactly(
            "say 'selective' instead of 'fast column'",
            "say 'range-scan or unique-lookup' instead of 'index hit'",
            "say 'range-scan or unique-lookup' instead of 'index seek'");
    assertThat(violations("a range-scan with one matching column")).isEmpty();
  }

  @TestFactory
  Stream<DynamicTest> pages_and_metadata_use_our_words() {
    return RuleRegistry.metadata().stream()
        .map(rule -> DynamicTest.dynamicTest(rule.id(), () -> assertOurWords(rule)));
  }

  private static void assertOurWords(RuleMetadata rule) {
    assertThat(violations(RuleExplanation.page(rule))).isEmpty();
    assertThat(violations(rule.summary())).isEmpty();
    for (RuleOption<?> option : rule.options()) {
      assertThat(violations(option.description())).isEmpty();
    }
  }

  @Test
  void the_glossary_defines_every_access_path() throws IOException {
    List<String> words =
        Files.readAllLines(GLOSSARY).stream()
            .filter(line -> line.startsWith("| "))
            .map(line -> line.split("\\|", -1)[1].strip())
            .toList();
    assertThat(words)
        .doesNotHaveDuplicates()
        .containsAll(Stream.of(AccessPath.values()).map(AccessPath::word).toList())
        .contains("leading column", "included column", "matching column", "screening column")
        .contains("covering", "sargable", "selectivity", "cardinality", "confidence");
  }

  @Test
  void every_synonym_is_replaced_by_a_word_of_the_glossary() throws IOException {
    String meanings =
        String.join(
            "\n",
            Files.readAllLines(GLOSSARY).stream()
                .filter(line -> line.startsWith("| "))
                .map(line -> line.split("\\|", -1)[1] + line.split("\\|", -1)[2])
                .toList());
    assertThat(violations(meanings)).isEmpty();
    assertThat(meanings).contains("partial index", "expression index", "index entry", "skip-scan");
  }
}
