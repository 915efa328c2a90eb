package dev.colonnade.query.derived;

import java.util.List;

/**
 * The words at the end of a condition (Spring Data Commons reference, "Repository query keywords"),
 * in the order in which they are tried.
 */
enum Operator {
  IS_NOT_NULL("IsNotNull", "NotNull"),
  IS_NULL("IsNull", "Null"),
  BETWEEN("IsBetween", "Between"),
  LESS_THAN("IsLessThan", "LessThan"),
  LESS_THAN_EQUAL("IsLessThanEqual", "LessThanEqual"),
  GREATER_THAN("IsGreaterThan", "GreaterThan"),
  GREATER_THAN_EQUAL("IsGreaterThanEqual", "GreaterThanEqual"),
  BEFORE("IsBefore", "Before"),
  AFTER("IsAfter", "After"),
  NOT_LIKE("IsNotLike", "NotLike"),
  LIKE("IsLike", "Like"),
  STARTING_WITH("IsStartingWith", "StartingWith", "StartsWith"),
  ENDING_WITH("IsEndingWith", "EndingWith", "EndsWith"),
  IS_NOT_EMPTY("IsNotEmpty", "NotEmpty"),
  IS_EMPTY("IsEmpty", "Empty"),
  NOT_CONTAINING("IsNotContaining", "NotContaining", "NotContains"),
  CONTAINING("IsContaining", "Containing", "Contains"),
  NOT_IN("IsNotIn", "NotIn"),
  IN("IsIn", "In"),
  NEAR("IsNear", "Near"),
  WITHIN("IsWithin", "Within"),
  REGEX("MatchesRegex", "Matches", "Regex"),
  EXISTS("Exists"),
  TRUE("IsTrue", "True"),
  FALSE("IsFalse", "False"),
  NOT("IsNot", "Not"),
  EQUAL("Is", "Equals");

  private final List<String> words;

  Operator(String... words) {
    this.words = List.of(words);
  }

  /**
   * A condition cut into its attribute and its operator; without a word values are equal.
   *
   * @param attribute capitalized, as in the method's name
   */
  record Split(String attribute, Operator operator) {}

  static Split split(String condition) {
    for (Operator operator : values()) {
      for (String word : operator.words) {
        if (condition.endsWith(word)) {
          return new Split(condition.substring(0, condition.length() - word.length()), operator);
        }
      }
    }
    return new Split(condition, EQUAL);
  }
}
