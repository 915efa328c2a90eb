package dev.colonnade.published;

import dev.colonnade.access.Candidate;
import dev.colonnade.access.TableAccess;
import dev.colonnade.predicate.Expression;
import dev.colonnade.predicate.Identifier;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** What a candidate says, in the words of the expectations. */
final class CandidateFacts {
  private CandidateFacts() {}

  /** The value of one property of the candidate, as an expectation would write it. */
  static String value(String property, Candidate candidate, TableAccess access) {
    return switch (property) {
      case "match" -> values(candidate.matching());
      case "screen" -> values(candidate.screening());
      case "residual" -> String.valueOf(candidate.residual().size());
      case "covering" -> candidate.covering() ? "yes" : "no";
      case "missing" -> names(candidate.missing());
      case "order" -> served(candidate.orderServed());
      case "group" -> served(candidate.groupingServed());
      case "path" -> candidate.path().word();
      case "entries" -> rounded(candidate.estimate().entries());
      case "rows" -> rounded(candidate.estimate().rows());
      case "unusable" -> candidate.isUnusable() ? "" : "usable";
      case "index" -> candidate.index().map(i -> i.name().text()).orElse("none");
      case "branches" -> branches(access);
      default -> throw new IllegalArgumentException("no property " + property);
    };
  }

  private static String values(List<Expression> values) {
    return values.isEmpty()
        ? "none"
        : values.stream().map(Expression::render).collect(Collectors.joining(", "));
  }

  private static String names(List<Identifier> names) {
    return names.isEmpty()
        ? "none"
        : names.stream().map(Identifier::text).collect(Collectors.joining(", "));
  }

  private static String branches(TableAccess access) {
    return access.branches().isEmpty()
        ? "none"
        : access.branches().stream()
            .map(branch -> branch.index().orElseThrow().name().text())
            .collect(Collectors.joining(", "));
  }

  private static String served(Optional<Boolean> served) {
    return served.map(yes -> yes ? "yes" : "no").orElse("not asked");
  }

  private static String rounded(double value) {
    return String.valueOf(Math.round(value));
  }

  /** Everything about a candidate in one line, for the message of a failure. */
  static String describe(Candidate candidate) {
    return candidate.index().map(i -> i.render()).orElse("no index")
        + ": "
        + candidate.path().word()
        + ", match "
        + values(candidate.matching())
        + ", screen "
        + values(candidate.screening())
        + ", residual "
        + candidate.residual().stream().map(p -> p.render()).toList()
        + ", covering "
        + candidate.covering()
        + ", order "
        + served(candidate.orderServed())
        + ", group "
        + served(candidate.groupingServed())
        + ", entries "
        + candidate.estimate().entries()
        + ", cost "
        + candidate.cost()
        + " ("
        + candidate.remark()
        + ")";
  }
}
