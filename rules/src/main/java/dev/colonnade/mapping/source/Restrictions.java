package dev.colonnade.mapping.source;

import dev.colonnade.mapping.Restriction;
import dev.colonnade.predicate.Identifier;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
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

  /** The SQL in {@code @SQLJoinTableRestriction} or {@code @WhereJoinTable}. */
  static List<Restriction> ofJoinTable(AnnotationTarget target, Predicate<Identifier> isColumn) {
    List<Restriction> result = new ArrayList<>();
    Marks.text(Marks.find(target, "SQLJoinTableRestriction"), "value")
        .or(() -> Marks.text(Marks.find(target, "WhereJoinTable"), "clause"))
        .ifPresent(sql -> result.add(SqlFragments.read(sql, isColumn)));
    return result;
  }
}
