package dev.colonnade.access;

import dev.colonnade.dialect.OrRules;
import dev.colonnade.predicate.Conditions;
import dev.colonnade.predicate.Expression.ColumnRef;
import dev.colonnade.predicate.Predicate;
import dev.colonnade.predicate.Predicate.And;
import dev.colonnade.predicate.Predicate.Exists;
import dev.colonnade.predicate.Predicate.InSubquery;
import dev.colonnade.predicate.Predicate.Or;
import dev.colonnade.query.Conjunct;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Takes out of an OR what stands in each of its branches, or restricts one table in each. */
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
    if (!(predicate instanceof Or or)) {
      return List.of(predicate);
    }
    List<List<Predicate>> branches = or.parts().stream().map(Conditions::conjuncts).toList();
    if (!rules.commonFactors().value().takenFrom(branches.stream().map(List::size).toList())) {
      return List.of(predicate);
    }
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

  /**
   * What an OR over several tables says of one: {@code (s.a = 1 and t.b = 2) or (s.a = 3 and t.b =
   * 4)} says {@code s.a = 1 or s.a = 3}. Empty where a branch says nothing of it.
   */
  static Optional<Predicate> ofTable(Predicate predicate, int use) {
    if (predicate instanceof Or or) {
      List<Predicate> branches = new ArrayList<>();
      for (Predicate branch : or.parts()) {
        List<Predicate> parts =
            Conditions.conjuncts(branch).stream()
                .flatMap(part -> ofTable(part, use).stream())
                .toList();
        if (parts.isEmpty()) {
          return Optional.empty();
        }
        branches.add(parts.size() == 1 ? parts.get(0) : new And(parts));
      }
      return Optional.of(Conditions.normalize(new Or(branches)));
    }
    boolean own =
        !(predicate instanceof InSubquery || predicate instanceof Exists)
            && !predicate.columns().isEmpty()
            && predicate.columns().stream().allMatch(column -> column.use() == use);
    return own ? Optional.of(predicate) : Optional.empty();
  }

  private static Set<Integer> restricts(Conjunct whole, Predicate part) {
    Set<Integer> uses =
        part.columns().stream().map(ColumnRef::use).collect(Collectors.toCollection(HashSet::new));
    uses.retainAll(whole.restricts());
    return uses;
  }
}
