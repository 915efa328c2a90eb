package dev.colonnade.rule;

import dev.colonnade.finding.Severity;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * What a rule says about itself.
 *
 * @param id its name in configuration and reports: the class name in kebab case
 * @param className simple name of its class; the spec page has the same
 * @param summary one line without full stop: what a finding means
 * @param category what the rule looks at
 * @param severity the severity of its findings unless configured
 * @param since the version that brought it
 * @param options what can be configured
 * @param aliases earlier ids, still accepted in configuration and in accepted findings
 */
public record RuleMetadata(
    String id,
    String className,
    String summary,
    Category category,
    Severity severity,
    String since,
    List<RuleOption<?>> options,
    List<String> aliases) {

  private static final Pattern ID = Pattern.compile("[a-z]+(-[a-z]+)*");
  private static final Pattern OPTION = Pattern.compile("[a-z][a-zA-Z]*");
  private static final Pattern VERSION = Pattern.compile("\\d+\\.\\d+");
  private static final int LONGEST_SUMMARY = 90;

  /** Copies the lists. */
  public RuleMetadata {
    options = List.copyOf(options);
    aliases = List.copyOf(aliases);
  }

  /** Starts the metadata of a rule; its id follows from the name of its class. */
  public static Builder rule(Class<? extends Rule> type) {
    return new Builder(type.getSimpleName());
  }

  /** What is wrong with the metadata: one line each; empty when it is well formed. */
  public List<String> problems() {
    List<String> problems = new ArrayList<>();
    require(problems, ID.matcher(id).matches(), "id is not in kebab case: " + id);
    require(problems, id.equals(kebab(className)), "id does not follow from class " + className);
    sentence(problems, "summary", summary);
    require(
        problems,
        summary.length() <= LONGEST_SUMMARY,
        "summary is longer than " + LONGEST_SUMMARY + " characters");
    require(problems, severity != Severity.OFF, "a rule is on by default");
    require(problems, VERSION.matcher(since).matches(), "since is not a version: " + since);
    for (RuleOption<?> option : options) {
      require(
          problems,
          OPTION.matcher(option.name()).matches(),
          "option is not in camel case: " + option.name());
      sentence(problems, "description of option " + option.name(), option.description());
    }
    require(
        problems,
        options.stream().map(RuleOption::name).distinct().count() == options.size(),
        "two options have one name");
    for (String alias : aliases) {
      require(problems, ID.matcher(alias).matches(), "alias is not in kebab case: " + alias);
      require(problems, !alias.equals(id), "alias is the id itself: " + alias);
    }
    return problems;
  }

  private static void sentence(List<String> problems, String what, String text) {
    require(problems, !text.isBlank(), what + " is empty");
    require(problems, !text.endsWith("."), what + " ends with a full stop");
    require(problems, text.equals(text.strip()), what + " has blanks around it");
    require(problems, !text.contains("\n"), what + " is longer than a line");
  }

  private static void require(List<String> problems, boolean condition, String problem) {
    if (!condition) {
      problems.add(problem);
    }
  }

  private static String kebab(String className) {
    return className.replaceAll("(?<=[a-z])(?=[A-Z])", "-").toLowerCase(Locale.ROOT);
  }

  /** Collects the metadata of a rule. */
  public static final class Builder {
    private final String className;
    private String summary = "";
    private Category category = Category.SHAPE;
    private Severity severity = Severity.WARNING;
    private String since = "";
    private List<RuleOption<?>> options = List.of();
    private List<String> aliases = List.of();

    private Builder(String className) {
      this.className = className;
    }

    /** One line without full stop. */
    public Builder summary(String text) {
      summary = text;
      return this;
    }

    /** What the rule looks at. */
    public Builder category(Category value) {
      category = value;
      return this;
    }

    /** The default severity. */
    public Builder severity(Severity value) {
      severity = value;
      return this;
    }

    /** The version that brought the rule. */
    public Builder since(String version) {
      since = version;
      return this;
    }

    /** What can be configured. */
    public Builder options(RuleOption<?>... values) {
      options = List.of(values);
      return this;
    }

    /** Earlier ids. */
    public Builder aliases(String... values) {
      aliases = List.of(values);
      return this;
    }

    /** The metadata. */
    public RuleMetadata build() {
      return new RuleMetadata(
          kebab(className), className, summary, category, severity, since, options, aliases);
    }
  }
}
