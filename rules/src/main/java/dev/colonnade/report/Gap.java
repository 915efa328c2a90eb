package dev.colonnade.report;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.UnanalysedQuery;
import java.util.ArrayList;
import java.util.List;

/**
 * One part of the input that was not understood, whatever it is.
 *
 * @param location where it stands
 * @param text what it is and why it was not understood
 */
record Gap(Kind kind, SourceLocation location, String text) {
  /** What was not understood. */
  enum Kind {
    /** A change. */
    CHANGE("change-not-understood", "A change of a changelog did not go into the schema"),
    /** A query. */
    QUERY("query-not-analysed", "A query was found and not analysed"),
    /** Anything else. */
    OTHER("input-not-understood", "A file, or a part of it, could not be read");

    private final String id;
    private final String meaning;

    Kind(String id, String meaning) {
      this.id = id;
      this.meaning = meaning;
    }

    String id() {
      return id;
    }

    String meaning() {
      return meaning;
    }
  }

  /** Everything that was not understood: changes, then queries, then the rest. */
  static List<Gap> of(Coverage coverage) {
    List<Gap> gaps = new ArrayList<>();
    coverage.changesNotUnderstood().forEach(entry -> gaps.add(of(Kind.CHANGE, entry)));
    coverage
        .queriesNotAnalysed()
        .forEach(query -> gaps.add(new Gap(Kind.QUERY, query.location(), text(query))));
    coverage.otherNotUnderstood().forEach(entry -> gaps.add(of(Kind.OTHER, entry)));
    return gaps;
  }

  /** The id says the place already where it is made of it. */
  private static String text(UnanalysedQuery query) {
    return query.id().equals(query.location().toString())
        ? query.reason()
        : query.id() + ": " + query.reason();
  }

  private static Gap of(Kind kind, NotUnderstood entry) {
    String changeSet = entry.location().changeSet().map(id -> "change set " + id + ": ").orElse("");
    return new Gap(kind, entry.location(), changeSet + entry.reason());
  }

  private static String oneLine(String text) {
    return text.strip().replaceAll("\\s+", " ");
  }

  /** Folds white space, so that a gap is one line. */
  Gap {
    text = oneLine(text);
  }
}
