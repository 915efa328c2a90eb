package dev.colonnade.query.mapper;

import dev.colonnade.location.NotUnderstood;
import dev.colonnade.location.SourceLocation;
import dev.colonnade.query.QuerySource;
import dev.colonnade.query.QueryText;
import dev.colonnade.query.UnanalysedQuery;
import dev.colonnade.query.mapper.XmlNode.Element;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Turns a statement without includes into the texts that it can become. */
final class StatementReader {
  private final Set<String> databaseIds;
  private final TableNames tables;
  private final Ognl ognl = new Ognl();
  private final List<QueryText> queries = new ArrayList<>();
  private final List<UnanalysedQuery> unanalysed = new ArrayList<>();
  private final List<NotUnderstood> notes = new ArrayList<>();
  private int withoutText;

  StatementReader(Set<String> databaseIds, TableNames tables) {
    this.databaseIds = databaseIds;
    this.tables = tables;
  }

  /** Reads a statement; whatever is wrong with it becomes an entry. */
  void read(String id, SourceLocation location, QuerySource source, Element statement) {
    try {
      Variants variants = Variants.of(statement, databaseIds, tables, ognl);
      add(id, location, source, variants);
    } catch (UnreadableMapperException e) {
      unanalysed.add(new UnanalysedQuery(id, location, e.getMessage()));
    } catch (StackOverflowError e) {
      unanalysed.add(new UnanalysedQuery(id, location, "the elements are nested too deeply"));
    }
  }

  private void add(String id, SourceLocation location, QuerySource source, Variants variants) {
    List<String> texts =
        variants.texts().stream().flatMap(it -> new SqlParts(it).statements().stream()).toList();
    List<String> own =
        texts.stream().filter(it -> OpenTexts.isStatement(it) && !OpenTexts.isCall(it)).toList();
    if (own.isEmpty()) {
      withoutText(id, location, texts);
      return;
    }
    Set<String> whole = new LinkedHashSet<>();
    List<String> open = new ArrayList<>();
    own.forEach(sql -> (OpenTexts.unknown(sql).isEmpty() ? whole : open).add(sql));
    for (String sql : open) {
      unanalysed.add(
          new UnanalysedQuery(
              id,
              location,
              MapperReader.OPEN_PART + OpenTexts.unknown(sql).orElseThrow() + " is not known"));
      OpenTexts.withNothing(sql).ifPresent(whole::add);
    }
    whole.forEach(
        sql ->
            queries.add(
                new QueryText(
                    id, location, source, sql, variants.patterns().into(SqlParts.joined(sql)))));
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

  private void withoutText(String id, SourceLocation location, List<String> texts) {
    withoutText++;
    Optional<String> passedIn =
        texts.stream().min(Comparator.comparing(String::length)).flatMap(OpenTexts::unknown);
    String why =
        texts.stream().anyMatch(OpenTexts::isCall)
            ? " calls a routine of the database: what that reads is not known"
            : passedIn
                .map(part -> " is passed in as " + part + " at run time: its text is not known")
                .orElse(" has no text on this database");
    notes.add(new NotUnderstood(location, "statement " + id + why));
  }

  void unanalysed(String id, SourceLocation location, String reason) {
    unanalysed.add(new UnanalysedQuery(id, location, reason));
  }

  void note(SourceLocation location, String reason) {
    notes.add(new NotUnderstood(location, reason));
  }

  MapperReading result() {
    return new MapperReading(queries, unanalysed, notes, withoutText);
  }
}
