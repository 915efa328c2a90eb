package dev.colonnade.rules;

import dev.colonnade.rule.IndexUse;
import dev.colonnade.schema.Index;
import dev.colonnade.schema.IndexOrigin;
import java.util.Collection;
import java.util.List;
import java.util.stream.Collectors;

/** Wording shared by the rules about surplus indexes. */
final class SurplusText {
  private static final int NAMED = 5;

  private SurplusText() {}

  /** An index with its place and, where a constraint owns it, which kind. */
  static String describe(Index index) {
    String owner = index.origin() == IndexOrigin.CREATE_INDEX ? "" : ", " + index.origin().word();
    String unique = index.unique() ? "unique " : "";
    return unique + index.render() + owner + ", " + index.location();
  }

  /** Who reads an index, the first few by name. */
  static String readers(List<IndexUse> uses) {
    List<String> ids =
        uses.stream().map(use -> use.query().query().id()).distinct().sorted().toList();
    if (ids.isEmpty()) {
      return "no analysed query reads it";
    }
    return "read by " + named(ids);
  }

  /** The first few by name, and how many more. */
  static String named(Collection<String> ids) {
    return ids.stream().limit(NAMED).collect(Collectors.joining(", "))
        + (ids.size() > NAMED ? " and " + (ids.size() - NAMED) + " more" : "");
  }
}
