package dev.colonnade.query.mapper;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.XmlNode.Element;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Turns a statement without includes into the texts that it can become. */
final class StatementReader {
  private final Set<String> databaseIds;
  private final Ognl ognl = new Ognl();
  private final List<QueryText> queries = new ArrayList<>();
  private final List<UnanalysedQuery> unanalysed = new ArrayList<>();
  private final List<NotUnderstood> notes = new ArrayList<>();

  StatementReader(Set<String> databaseIds) {
    this.databaseIds = databaseIds;
  }

  /** Reads a statement; whatever is wrong with it becomes an entry. */
  void read(String id, SourceLocation location, QuerySource source, Element statement) {
    try {
      Variants variants = Variants.of(statement, databaseIds, ognl);
      add(id, location, source, variants);
    } catch (UnreadableMapperException e) {
      unanalysed.add(new UnanalysedQuery(id, location, e.getMessage()));
    } catch (StackOverflowError e) {
      unanalysed.add(new UnanalysedQuery(id, location, "the elements are nested too deeply"));
    }
  }

  private void add(String id, SourceLocation location, QuerySource source, Variants variants) {
    List<String> texts = variants.texts();
    if (texts.isEmpty()) {
      unanalysed.add(new UnanalysedQuery(id, location, "the statement has no text"));
    }
    for (String sql : texts) {
      Optional<String> unknown = OpenTexts.unknown(sql);
      if (unknown.isPresent()) {
        unanalysed.add(
            new UnanalysedQuery(
                id, location, "what stands for " + unknown.get() + " is not known"));
      } else {
        queries.add(new QueryText(id, location, source, sql, sql));
      }
    }
    if (variants.capped()) {
      notes.add(
          new NotUnderstood(
              location,
              "statement "
                  + id
                  + " can become more texts than the "
                  + texts.size()
                  + " that are looked at"));
    }
  }

  void unanalysed(String id, SourceLocation location, String reason) {
    unanalysed.add(new UnanalysedQuery(id, location, reason));
  }

  void note(SourceLocation location, String reason) {
    notes.add(new NotUnderstood(location, reason));
  }

  MapperReading result() {
    return new MapperReading(queries, unanalysed, notes);
  }
}
