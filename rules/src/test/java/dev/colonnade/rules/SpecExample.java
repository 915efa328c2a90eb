package dev.colonnade.rules;

import dev.colonnade.dialect.Dialects;
import dev.colonnade.rule.RuleMetadata;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * One example of a rule's page.
 *
 * @param title its heading
 * @param blocks text of each fenced block by its word: settings, changelog, queries, findings
 */
record SpecExample(String title, Map<String, String> blocks) {
  private static final Pattern BLOCK = Pattern.compile("```(\\w+)\n(.*?)```\n", Pattern.DOTALL);

  /** The examples of a page, in order. */
  static List<SpecExample> of(String page) {
    List<SpecExample> examples = new ArrayList<>();
    String[] parts = page.substring(page.indexOf("\n## Examples\n")).split("\n### ", -1);
    for (int i = 1; i < parts.length; i++) {
      Map<String, String> blocks = new LinkedHashMap<>();
      Matcher matcher = BLOCK.matcher(parts[i]);
      while (matcher.find()) {
        if (blocks.put(matcher.group(1), matcher.group(2)) != null) {
          throw new AssertionError("two blocks of one kind under " + parts[i]);
        }
      }
      examples.add(new SpecExample(parts[i].lines().findFirst().orElseThrow(), blocks));
    }
    return examples;
  }

  /** The findings as written; empty asserts silence. */
  String findings() {
    return block("findings");
  }

  /** The options that the settings set. */
  List<String> options() {
    return settings().keySet().stream()
        .filter(key -> key.startsWith("option "))
        .map(key -> key.substring("option ".length()))
        .toList();
  }

  /** What the rule is shown. */
  Scene scene(RuleMetadata rule) {
    Scene scene = Scene.EMPTY.ddl(block("changelog")).queries(block("queries"));
    for (Map.Entry<String, String> setting : settings().entrySet()) {
      String[] words = setting.getKey().split("[ .]", -1);
      String value = setting.getValue();
      scene =
          switch (words[0]) {
            case "database" -> scene.on(Dialects.byShortName(value).orElseThrow());
            case "rows" -> scene.rows(words[1], Double.parseDouble(value));
            case "distinct" -> scene.distinct(words[1], words[2], Double.parseDouble(value));
            case "option" -> scene.with(scene.settings().withOption(rule.id(), words[1], value));
            default -> throw new AssertionError("unknown setting " + setting.getKey());
          };
    }
    return scene;
  }

  private String block(String word) {
    return Optional.ofNullable(blocks.get(word))
        .orElseThrow(() -> new AssertionError("no block " + word + " under " + title));
  }

  private Map<String, String> settings() {
    Map<String, String> settings = new LinkedHashMap<>();
    blocks
        .getOrDefault("settings", "")
        .lines()
        .filter(line -> !line.isBlank())
        .forEach(
            line -> {
              String[] sides = line.split(":", 2);
              settings.put(sides[0].strip(), sides[1].strip());
            });
    return settings;
  }
}
