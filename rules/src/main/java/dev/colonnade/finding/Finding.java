package dev.colonnade.finding;

import dev.colonnade.location.SourceLocation;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * What a rule has to say.
 *
 * <p>A finding that rests on an assumption is never an {@link Severity#ERROR}: this constructor is
 * the one place that sees to it, whatever a rule or a configuration asks for.
 *
 * @param ruleId the rule, in kebab case
 * @param severity how much it weighs; never {@link Severity#OFF}
 * @param location where to look: the query, or the change set that makes the index
 * @param queryId the query concerned; empty for a finding about the schema
 * @param table the table concerned
 * @param title one line without full stop
 * @param evidence what it rests on and what would help, in the order of {@link Evidence.Label}
 * @param suggestions changes that would resolve it, best first; may be empty
 * @param fingerprint its identity across builds
 * @param restsOnAssumption true when it would fall if a default number that nobody stated were
 *     wrong
 */
public record Finding(
    String ruleId,
    Severity severity,
    SourceLocation location,
    Optional<String> queryId,
    Identifier table,
    String title,
    List<Evidence> evidence,
    List<Suggestion> suggestions,
    Fingerprint fingerprint,
    boolean restsOnAssumption)
    implements Comparable<Finding> {

  private static final Comparator<Finding> ORDER =
      Comparator.comparing(Finding::location)
          .thenComparing(Finding::ruleId)
          .thenComparing(finding -> finding.queryId().orElse(""))
          .thenComparing(Finding::table)
          .thenComparing(Finding::fingerprint)
          .thenComparing(Finding::render);

  /** Copies the lists, orders the evidence, and lowers an error that rests on an assumption. */
  public Finding {
    if (severity == Severity.OFF) {
      throw new IllegalArgumentException("a finding of a rule that is off: " + ruleId);
    }
    if (restsOnAssumption && severity == Severity.ERROR) {
      severity = Severity.WARNING;
    }
    evidence = evidence.stream().sorted(Comparator.comparing(Evidence::label)).toList();
    suggestions = List.copyOf(suggestions);
  }

  /**
   * The finding as the console prints it: the title line, then one indented line of evidence each.
   */
  public String render() {
    return headline()
        + evidence.stream().map(line -> "\n  " + line.render()).collect(Collectors.joining());
  }

  /** The title line: {@code file:line: severity: [rule] title}. */
  public String headline() {
    return location + ": " + severity.word() + ": [" + ruleId + "] " + title;
  }

  /** The lines of one kind. */
  public List<String> lines(Evidence.Label label) {
    return evidence.stream().filter(line -> line.label() == label).map(Evidence::text).toList();
  }

  @Override
  public int compareTo(Finding other) {
    return ORDER.compare(this, other);
  }

  /** Collects a finding line by line. */
  public static final class Builder {
    private final String ruleId;
    private Severity severity;
    private final SourceLocation location;
    private final Optional<String> queryId;
    private final Identifier table;
    private final Fingerprint fingerprint;
    private final List<Evidence> evidence = new ArrayList<>();
    private final List<Suggestion> suggestions = new ArrayList<>();
    private boolean restsOnAssumption;

    /** A finding without evidence so far. */
    public Builder(
        String ruleId,
        Severity severity,
        SourceLocation location,
        Optional<String> queryId,
        Identifier table,
        Fingerprint fingerprint) {
      this.ruleId = ruleId;
      this.severity = severity;
      this.location = location;
      this.queryId = queryId;
      this.table = table;
      this.fingerprint = fingerprint;
    }

    /** Adds a line. */
    public Builder line(Evidence.Label label, String text) {
      evidence.add(new Evidence(label, text));
      return this;
    }

    /** Adds a suggestion. */
    public Builder suggest(Suggestion suggestion) {
      suggestions.add(suggestion);
      return this;
    }

    /** Says that the finding rests on an assumption, if it does. */
    public Builder assumed(boolean assumption) {
      restsOnAssumption |= assumption;
      return this;
    }

    /** Lowers the severity where it is heavier: the verdict is open to debate. */
    public Builder atMost(Severity most) {
      severity = severity.isAtLeast(most) ? most : severity;
      return this;
    }

    /** The finding. */
    public Finding build(String title) {
      return new Finding(
          ruleId,
          severity,
          location,
          queryId,
          table,
          title,
          evidence,
          suggestions,
          fingerprint,
          restsOnAssumption);
    }
  }
}
