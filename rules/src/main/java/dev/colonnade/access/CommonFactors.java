package dev.colonnade.access;

import dev.colonnade.dialect.OrRules;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.Conjunct;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/** Takes out of an OR what stands in each of its branches. */
final class CommonFactors {
  private CommonFactors() {}

  /**
   * The conditions with {@code (a and b) or (a and c)} as {@code a} and {@code b or c}, where the
   * database does so.
   */
  static List<Conjunct> takenOut(List<Conjunct> conjuncts, OrRules rules) {
    List<Conjunct> result = new ArrayList<>();
    for (Conjunct conjunct : conjuncts) {
      List<Predicate> parts = takenOut(conjunct.predicate(), rules);
      if (parts.equals(List.of(conjunct.predicate()))) {
        result.add(conjunct);
      } else {
        parts.forEach(part -> result.add(new Conjunct(part, restricts(conjunct, part))));
      }
    }
    return result;
  }

  private static List<Predicate> takenOut(Predicate predicate, OrRules rules) {
    if (!(predicate instanceof Or or)
        || !rules.commonFactors().value().takenFrom(or.parts().size())) {
      return List.of(predicate);
    }
    List<List<Predicate>> branches = or.parts().stream().map(Conditions::conjuncts).toList();
    Set<Predicate> common = new LinkedHashSet<>(branches.get(0));
    branches.forEach(common::retainAll);
    if (common.isEmpty()) {
      return List.of(predicate);
    }
    List<Predicate> parts = new ArrayList<>(common);
    List<Predicate> rests = new ArrayList<>();
    for (List<Predicate> branch : branches) {
      List<Predicate> rest = branch.stream().filter(it -> !common.contains(it)).toList();
      if (rest.isEmpty()) {
        return List.copyOf(common); // that branch makes the others moot
      }
      rests.add(rest.size() == 1 ? rest.get(0) : new And(rest));
    }
    parts.add(Conditions.normalize(new Or(rests)));
    return parts;
  }

  private static Set<Integer> restricts(Conjunct whole, Predicate part) {
    Set<Integer> uses =
        part.columns().stream().map(ColumnRef::use).collect(Collectors.toCollection(HashSet::new));
    uses.retainAll(whole.restricts());
    return uses;
  }
}
