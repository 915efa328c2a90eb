package dev.colonnade.report;

import dev.colonnade.finding.Severity;

/**
 * What the reports say about a rule.
 *
 * @param id in kebab case
 * @param summary one line without full stop
 * @param explanation the problem, the fix, and when not to fix, in Markdown
 * @param severity what it weighs by default
 */
public record RuleDescription(String id, String summary, String explanation, Severity severity) {}
