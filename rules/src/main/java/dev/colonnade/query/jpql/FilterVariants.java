package dev.colonnade.query.jpql;

import dev.colonnade.mapping.Mapping;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Function;

/**
 * The texts of one query under filters that a session can switch on: with none of them, with each
 * alone, and with all.
 */
final class FilterVariants {
  private FilterVariants() {}

  /** Writes a query once for each choice of filters that changes its text. */
  static JpqlResult.Translated of(
      Mapping mapping, String database, Function<Statement, List<String>> writer) {
    Statement plain = new Statement(mapping, database);
    List<String> own = writer.apply(plain);
    List<Set<String>> choices = new ArrayList<>();
    plain.switches.forEach(name -> choices.add(Set.of(name)));
    choices.add(plain.switches);
    Set<List<String>> seen = new HashSet<>(List.of(own));
    List<JpqlResult.Translated> filtered = new ArrayList<>();
    for (Set<String> choice : choices) {
      List<String> sql = writer.apply(new Statement(mapping, database, choice));
      if (seen.add(sql)) {
        filtered.add(translated(sql, List.of()));
      }
    }
    return translated(own, filtered);
  }

  private static JpqlResult.Translated translated(
      List<String> sql, List<JpqlResult.Translated> filtered) {
    return sql.isEmpty()
        ? new JpqlResult.Translated("", List.of(), filtered)
        : new JpqlResult.Translated(sql.get(0), sql.subList(1, sql.size()), filtered);
  }
}
