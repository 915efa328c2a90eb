package dev.colonnade.rule;

/** Turns facts about the schema and the access paths into findings. Holds no state. */
public sealed interface Rule permits QueryRule, SchemaRule {
  /** What the rule says about itself. */
  RuleMetadata metadata();
}
