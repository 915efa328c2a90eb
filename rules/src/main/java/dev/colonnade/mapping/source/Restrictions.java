package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Restriction;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import org.jboss.jandex.AnnotationInstance;
import org.jboss.jandex.AnnotationTarget;

/** Reads conditions that are added to every query. */
final class Restrictions {
  private Restrictions() {}

  /** The SQL in {@code @SQLRestriction} or {@code @Where}. */
  static List<Restriction> of(AnnotationTarget target, Predicate<Identifier> isColumn) {
    List<Restriction> result = new ArrayList<>();
    Marks.text(Marks.find(target, "SQLRestriction"), "value")
        .or(() -> Marks.text(Marks.find(target, "Where"), "clause"))
        .ifPresent(sql -> result.add(SqlFragments.read(sql, isColumn)));
    return result;
  }

  /** {@code @SoftDelete}: by default {@code deleted = false} (Hibernate ORM user guide). */
  static Optional<Restriction> softDelete(AnnotationTarget target, Names names) {
    Optional<AnnotationInstance> mark = Marks.find(target, "SoftDelete");
    if (mark.isEmpty()) {
      return Optional.empty();
    }
    String strategy = Marks.constant(mark.get(), "strategy").orElse("DELETED");
    String column =
        Marks.text(mark, "columnName").orElse(strategy.equals("ACTIVE") ? "active" : "deleted");
    String condition =
        switch (strategy) {
          case "ACTIVE" -> " = true";
          case "TIMESTAMP" -> " is null";
          default -> " = false";
        };
    return Optional.of(new Restriction(List.of("", names.physical(column).text() + condition)));
  }
}
